from django.http import HttpResponse
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_http_methods

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from invoices.actions.payment import enter_payment, take_back_payment
from invoices.forms.payment import PaymentForm, TakeBackForm
from invoices.queries.bill import customer_to_pay, payment_for, unpaid_bills_of


@require_http_methods(["GET", "POST"])
def new(request: OurRequest, customer_id: int) -> HttpResponse:
    """Enter money from one customer; `?bill=` chooses the bill it is for."""
    customer = customer_to_pay(request.user, customer_id)
    bills = unpaid_bills_of(customer.pk)
    asked = request.GET.get("bill", "")
    is_id = asked.isdecimal() and len(asked) <= 18
    chosen = bills.filter(pk=asked).first() if is_id else None
    form = PaymentForm(
        request.POST or None,
        bills=bills,
        initial={
            "received_on": localdate(),
            "first_bill": chosen,
            "amount_gbp": f"{chosen.owed_gbp:.2f}" if chosen else "",
        },
    )
    if form.is_valid():
        first = form.cleaned_data.pop("first_bill")
        try:
            enter_payment(
                customer_id=customer.pk,
                first_bill_id=first.pk if first else None,
                **form.cleaned_data,
                by=request.user,
                now=now(),
            )
        except Refused as refusal:
            known = refusal.field if refusal.field in form.fields else None
            form.add_error(known, str(refusal))
        else:
            return go_to(request, first or "invoices:money")
    return page_or_part(
        request,
        "invoices/payment/new.html",
        "invoices/payment/_new_form.html",
        {"form": form, "customer": customer},
        invalid=bool(form.errors),
    )


@require_http_methods(["GET", "POST"])
def take_back(request: OurRequest, payment_id: int) -> HttpResponse:
    payment = payment_for(request.user, payment_id)
    form = TakeBackForm(request.POST or None)
    if form.is_valid():
        try:
            take_back_payment(
                payment.pk, **form.cleaned_data, by=request.user, now=now()
            )
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            return go_to(request, "invoices:money")
    return page_or_part(
        request,
        "invoices/payment/take_back.html",
        "invoices/payment/_take_back_form.html",
        {"form": form, "payment": payment},
        invalid=bool(form.errors),
    )
