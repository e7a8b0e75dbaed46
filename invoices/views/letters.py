"""The customer's side of a bill: no account, only the link that was sent."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from firm.engine.refusal import Refused
from firm.queries.links import linked_id
from firm.queries.papers import paper_bytes
from invoices.queries.bill import letter_for

PAGE = "invoices/letter/letter.html"


@login_not_required
@require_safe
def letter(request: HttpRequest) -> HttpResponse:
    bill = letter_for(linked_id(request.session, "bill"))
    return render(request, PAGE, {"bill": bill, "shot": bill.snapshot})


@login_not_required
@require_safe
def paper(request: HttpRequest) -> HttpResponse:
    bill = letter_for(linked_id(request.session, "bill"))
    try:
        pdf = paper_bytes(bill.paper)
    except Refused as refusal:
        context = {"bill": bill, "shot": bill.snapshot, "trouble": str(refusal)}
        return render(request, PAGE, context, status=404)
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="bill-{bill.number}.pdf"'
    return answer
