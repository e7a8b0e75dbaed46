"""Enter money that came in, say what it pays, and take it back when it bounced."""

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.db import IntegrityError, transaction

from firm import may
from firm.actions import history, tray
from firm.engine.refusal import Refused
from firm.models import Person
from invoices.engine.allocation import Allocating, Owed, allocate
from invoices.models import Allocation, Bill, Payment, Reversal
from jobs.models import Customer

ONLY_THE_BOOKS = "Only the office or the bookkeeper can enter a payment."
PAID = "The bill has been paid."


@transaction.atomic
def enter_payment(
    *,
    customer_id: int,
    amount_gbp: Decimal,
    received_on: date,
    method: str,
    reference: str,
    first_bill_id: int | None,
    form_key: UUID,
    by: Person,
    now: datetime,
) -> Payment:
    """Enter a payment; it pays the bill that was named, then the oldest."""
    if not may.enter_payments(by):
        raise Refused(ONLY_THE_BOOKS)
    if received_on > now.date():
        raise Refused("The money cannot have come in after today.", "received_on")
    if amount_gbp <= 0:
        raise Refused("Give the amount that came in, more than nothing.", "amount_gbp")
    customer = Customer.objects.select_for_update().get(pk=customer_id)
    payment, is_new = Payment.objects.get_or_create(
        form_key=form_key,
        defaults={
            "customer": customer,
            "amount_gbp": amount_gbp,
            "received_on": received_on,
            "method": method,
            "reference": reference,
            "entered_by": by,
            "entered_at": now,
        },
    )
    if is_new:
        _allocate(payment, first_bill_id=first_bill_id, by=by, now=now)
    return payment


def _allocate(
    payment: Payment, *, first_bill_id: int | None, by: Person, now: datetime
) -> None:
    bills = {bill.pk: bill for bill in _unpaid(payment.customer_id)}
    if first_bill_id is not None and first_bill_id not in bills:
        raise Refused("That bill is paid already, or is not this customer's.", "bill")
    answer = allocate(
        Allocating(
            payment_gbp=payment.amount_gbp,
            bills=tuple(
                Owed(bill=str(bill.pk), due_on=bill.due_on, owed_gbp=bill.owed_gbp)
                for bill in bills.values()
            ),
            first=str(first_bill_id) if first_bill_id else None,
        )
    )
    for share in answer.shares:
        bill = bills[int(share.bill)]
        _pay(payment, bill, share.amount_gbp, by=by, now=now)


def _unpaid(customer_id: int) -> list[Bill]:
    return list(
        Bill.objects.unpaid().filter(customer_id=customer_id).order_by("due_on", "pk")
    )


def _pay(
    payment: Payment, bill: Bill, amount_gbp: Decimal, *, by: Person, now: datetime
) -> None:
    try:
        Allocation.objects.create(payment=payment, bill=bill, amount_gbp=amount_gbp)
    except IntegrityError as fault:
        raise Refused("Somebody has just paid that bill. Look again.") from fault
    words = f"£{amount_gbp:,.2f} came in for {bill}."
    history.write(
        about=("job", bill.job_id), event="bill-paid", words=words, now=now, by=by
    )
    if amount_gbp >= bill.owed_gbp:
        tray.stop_notices(about=("bill", bill.pk), because=PAID, now=now)


@transaction.atomic
def take_back_payment(
    payment_id: int, *, because: str, by: Person, now: datetime
) -> None:
    """Take a payment back with a reason; its bills are owed again."""
    if not may.enter_payments(by):
        raise Refused(ONLY_THE_BOOKS)
    if not because.strip():
        raise Refused("Say why the payment is taken back.", "because")
    payment = Payment.objects.select_for_update().get(pk=payment_id)
    if Reversal.objects.filter(payment=payment).exists():
        raise Refused("This payment has been taken back already.")
    Reversal.objects.create(payment=payment, because=because, by=by, at=now)
    for share in payment.allocations.select_related("bill"):
        words = f"£{share.amount_gbp:,.2f} for {share.bill} taken back: {because}"
        history.write(
            about=("job", share.bill.job_id),
            event="payment-taken-back",
            words=words,
            now=now,
            by=by,
        )
