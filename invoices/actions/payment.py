"""Enter money that came in, say what it pays, and take it back when it bounced."""

from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.timezone import localdate

from firm import may
from firm.actions import history, tray
from firm.engine.money import pounds
from firm.engine.refusal import Refused
from firm.models import Person
from invoices.engine.allocation import OpenBill, Part, allocate
from invoices.engine.allocation import Payment as Question
from invoices.models import Allocation, Bill, Payment, Reversal
from invoices.queries.bill import payments_with_rest, unpaid_bills_of
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
    """Enter a payment; it pays the bill that was named, or else the oldest."""
    if not may.enter_payments(by):
        raise Refused(ONLY_THE_BOOKS)
    if received_on > localdate(now):
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
    bills = {bill.pk: bill for bill in unpaid_bills_of(payment.customer_id)}
    if first_bill_id is not None and first_bill_id not in bills:
        raise Refused("That bill is paid already, or is not this customer's.", "bill")
    told = _told(payment, bills[first_bill_id]) if first_bill_id else ()
    answer = allocate(
        Question(
            gbp=payment.amount_gbp,
            bills=tuple(
                OpenBill(
                    number=str(bill.pk),
                    due_on=bill.falls_due_on,
                    balance_gbp=owed(bill),
                )
                for bill in bills.values()
            ),
            told=told,
        )
    )
    for part in answer.parts:
        _pay(payment, bills[int(part.number)], part.gbp, by=by, now=now)


def _told(payment: Payment, bill: Bill) -> tuple[Part, ...]:
    """Pay the bill that was named; what is over waits on account."""
    return (Part(number=str(bill.pk), gbp=min(payment.amount_gbp, owed(bill))),)


def owed(bill: Bill) -> Decimal:
    # SQLite adds decimals as binary fractions; a balance is whole pennies.
    return pounds(bill.owed_gbp)


@transaction.atomic
def pay_from_account(bill_id: int, *, by: Person, now: datetime) -> None:
    """Pay a bill with money of its customer that pays no bill yet, oldest first."""
    if not may.enter_payments(by):
        raise Refused(ONLY_THE_BOOKS)
    bill = Bill.objects.unpaid().filter(pk=bill_id).first()
    if bill is None:
        raise Refused("That bill is paid already.")
    payments = payments_with_rest(bill.customer_id)
    if not payments:
        raise Refused("This customer has no money on account.")
    for payment in payments:
        part_gbp = min(pounds(payment.left_gbp), owed(bill))
        if part_gbp > 0:
            _pay(payment, bill, part_gbp, by=by, now=now)
            bill.owed_gbp -= part_gbp


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
    if amount_gbp >= owed(bill):
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
