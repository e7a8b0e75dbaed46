"""Bills for those who may see money, and the customer's own by link."""

from datetime import date
from decimal import Decimal

from django.db.models import DecimalField, F, QuerySet, Sum, Value
from django.db.models.functions import Coalesce
from django.http import Http404

from firm import may
from firm.engine.money import pounds
from firm.models import Person
from invoices.models import Bill, BillHold, Payment
from jobs.models import Customer, Job

SHUT = (
    "This page was open for too long, or its link has run out."
    " Open the link in our letter again, or ring us."
)
AGES = (
    ("not due yet", -(10**6), 0),
    ("up to 30 days", 1, 30),
    ("31 to 60 days", 31, 60),
    ("over 60 days", 61, 10**6),
)
MONEY = DecimalField(max_digits=12, decimal_places=2)


def job_to_bill(person: Person, job_id: int) -> Job:
    job = Job.objects.with_people().filter(pk=job_id).first()
    if job is None or not may.issue_bills(person):
        raise Http404("There is no such job for you to bill.")
    return job


def bill_for(person: Person, bill_id: int) -> Bill:
    """Return an issued bill with what is still owed on it."""
    bills = Bill.objects.issued().with_balance()
    bill = bills.select_related("job", "customer", "payee", "paper").filter(pk=bill_id)
    found = bill.first()
    if found is None or not may.see_money(person):
        raise Http404("There is no such bill for you.")
    return found


def letter_for(bill_id: int | None) -> Bill:
    """Return what a customer's link opens."""
    bills = Bill.objects.issued().with_balance().select_related("payee", "paper")
    bill = bills.filter(pk=bill_id or 0).first()
    if bill is None:
        raise Http404(SHUT)
    return bill


def unpaid_bills() -> QuerySet[Bill]:
    """Return what is owed, the oldest due first."""
    unpaid = Bill.objects.unpaid().select_related("customer", "job")
    return unpaid.prefetch_related("holds").order_by("due_on", "pk")


def unpaid_bills_of(customer_id: int) -> QuerySet[Bill]:
    """Return what one customer owes, the oldest due first."""
    unpaid = Bill.objects.unpaid().filter(customer_id=customer_id)
    return unpaid.order_by("due_on", "pk")


def payment_for(person: Person, payment_id: int) -> Payment:
    payments = Payment.objects.select_related("customer").filter(pk=payment_id)
    payment = payments.first()
    if payment is None or not may.enter_payments(person):
        raise Http404("There is no such payment for you.")
    return payment


def finished_not_billed() -> QuerySet[Job]:
    done = Job.objects.at_stage(Job.Stage.DONE).with_people()
    return done.exclude(bills__state=Bill.State.ISSUED).order_by("finished_on", "pk")


def bills_of(job: Job) -> QuerySet[Bill]:
    return Bill.objects.issued().with_balance().filter(job=job)


def customer_to_pay(person: Person, customer_id: int) -> Customer:
    customer = Customer.objects.filter(pk=customer_id).first()
    if customer is None or not may.enter_payments(person):
        raise Http404("There is no such customer for you.")
    return customer


def standing_hold(bill: Bill) -> BillHold | None:
    """Return why a bill is not chased, from its rows already read."""
    return next((hold for hold in bill.holds.all() if hold.lifted_at is None), None)


def payments_with_bills(limit: int = 30) -> list[tuple[Payment, list[Bill]]]:
    """Return what came in, the newest first, and the bills that each paid."""
    payments = Payment.objects.select_related("customer", "reversal")
    rows = payments.prefetch_related("allocations__bill")[:limit]
    return [(row, [share.bill for share in row.allocations.all()]) for row in rows]


def on_account_gbp(customer_id: int) -> Decimal:
    """Return the money of a customer that pays no bill yet."""
    return pounds(sum((p.left_gbp for p in payments_with_rest(customer_id)), Decimal()))


def payments_with_rest(customer_id: int) -> list[Payment]:
    nothing = Value(Decimal("0.00"), output_field=MONEY)
    used = Coalesce(Sum("allocations__amount_gbp"), nothing, output_field=MONEY)
    payments = Payment.objects.filter(customer=customer_id, reversal__isnull=True)
    left = payments.annotate(used_gbp=used).annotate(  # type: ignore[no-redef]  # named
        left_gbp=F("amount_gbp") - F("used_gbp")
    )
    return [p for p in left.order_by("received_on", "pk") if pounds(p.left_gbp) > 0]


def owed_by_age(bills: list[Bill], *, today: date) -> list[tuple[str, Decimal, int]]:
    """Add up what is owed by how long it has been due: words, sum, how many."""
    rows = []
    for words, first, last in AGES:
        own = [b for b in bills if first <= (today - b.falls_due_on).days <= last]
        rows.append(
            (words, pounds(sum((b.owed_gbp for b in own), Decimal())), len(own))
        )
    return rows


def paper_is_for(person: Person, bill_id: int) -> bool:
    return may.see_money(person) and Bill.objects.filter(pk=bill_id).exists()
