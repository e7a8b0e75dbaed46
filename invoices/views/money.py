from django.http import Http404, HttpResponse
from django.utils.timezone import localdate
from django.views.decorators.http import require_safe

from firm import may
from firm.views.pages import OurRequest, page_or_part
from invoices.queries import bill as queries


@require_safe
def money(request: OurRequest) -> HttpResponse:
    """Who owes what and for how long, what is to be billed, and what came in."""
    if not may.see_money(request.user):
        raise Http404
    unpaid = list(queries.unpaid_bills())
    held = [(bill, queries.standing_hold(bill)) for bill in unpaid]
    context = {
        "today": localdate(),
        "unpaid": held,
        "by_age": queries.owed_by_age(unpaid, today=localdate()),
        "to_bill": queries.finished_not_billed(),
        "payments": queries.payments_with_bills(),
        "may_bill": may.issue_bills(request.user),
        "may_pay": may.enter_payments(request.user),
    }
    return page_or_part(
        request, "invoices/money/money.html", "invoices/money/_money.html", context
    )
