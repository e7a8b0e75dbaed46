from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.utils.timezone import localdate, now
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from firm import may
from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from invoices.actions.bill import issue_bill
from invoices.actions.hold import ONLY_THE_OFFICE, hold_bill, lift_hold
from invoices.actions.payment import pay_from_account
from invoices.forms.hold import HoldForm
from invoices.models import Bill
from invoices.queries import bill as queries
from invoices.queries.drawn import drawn_bill

PAGE, PART = "invoices/bill/bill.html", "invoices/bill/_bill.html"


@require_http_methods(["GET", "POST"])
def new(request: OurRequest, job_id: int) -> HttpResponse:
    """Show what would be billed today; pressing issues it."""
    job = queries.job_to_bill(request.user, job_id)
    trouble, drawn = "", None
    try:
        if request.method == "POST":
            bill = issue_bill(job.pk, by=request.user, today=localdate(), now=now())
            return go_to(request, bill)
        drawn = drawn_bill(job, today=localdate())
    except Refused as refusal:
        trouble = str(refusal)
    context = {"job": job, "drawn": drawn, "trouble": trouble}
    return page_or_part(
        request,
        "invoices/bill/new.html",
        "invoices/bill/_new.html",
        context,
        invalid=bool(trouble) and request.method == "POST",
    )


@require_safe
def bill(request: OurRequest, bill_id: int) -> HttpResponse:
    found = queries.bill_for(request.user, bill_id)
    return page_or_part(request, PAGE, PART, _context(request, found))


@require_POST
def hold(request: OurRequest, bill_id: int) -> HttpResponse:
    found = queries.bill_for(request.user, bill_id)
    if not may.stop_chasers(request.user):
        raise PermissionDenied(ONLY_THE_OFFICE)
    form = HoldForm(request.POST)
    if form.is_valid():
        try:
            hold_bill(found.pk, **form.cleaned_data, by=request.user, now=now())
        except Refused as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            return go_to(request, found)
    context = _context(request, found) | {"hold_form": form}
    return page_or_part(request, PAGE, PART, context, invalid=True)


@require_POST
def lift(request: OurRequest, bill_id: int) -> HttpResponse:
    found = queries.bill_for(request.user, bill_id)
    if not may.stop_chasers(request.user):
        raise PermissionDenied(ONLY_THE_OFFICE)
    try:
        lift_hold(found.pk, by=request.user, now=now())
    except Refused as refusal:
        return _refused(request, found, refusal)
    return go_to(request, found)


@require_POST
def from_account(request: OurRequest, bill_id: int) -> HttpResponse:
    found = queries.bill_for(request.user, bill_id)
    try:
        pay_from_account(found.pk, by=request.user, now=now())
    except Refused as refusal:
        return _refused(request, found, refusal)
    return go_to(request, found)


def _refused(request: OurRequest, found: Bill, refusal: Refused) -> HttpResponse:
    context = _context(request, found) | {"trouble": str(refusal)}
    return page_or_part(request, PAGE, PART, context, invalid=True)


def _context(request: OurRequest, found: Bill) -> dict[str, object]:
    return {
        "bill": found,
        "shot": found.snapshot,
        "today": localdate(),
        "payments": found.allocations.select_related("payment__reversal"),
        "hold": found.holds.filter(lifted_at=None).first(),
        "hold_form": HoldForm(),
        "on_account_gbp": queries.on_account_gbp(found.customer_id),
        "may_pay": may.enter_payments(request.user),
        "may_hold": may.stop_chasers(request.user),
    }
