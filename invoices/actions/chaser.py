"""Chase what is owed: one letter at a time, on working days, never after it is paid."""

from collections.abc import Iterable
from datetime import datetime, time

from django.db import transaction
from django.utils.timezone import localdate, make_aware

from firm import may
from firm.actions import tray
from firm.engine.refusal import Refused
from firm.models import Notice, Person
from invoices.actions.chaser_letters import letter
from invoices.engine.chasing import STEPS, Chase, Sent, Stop, letters_due
from invoices.engine.chasing_values import StepKey, StopKind
from invoices.models import Bill, BillHold

FIRST_LETTER_AT = time(9, 0)
LAST_LETTER_AT = time(17, 30)
STOPS: dict[BillHold.Kind, StopKind] = {
    BillHold.Kind.DISPUTE: "disputed",
    BillHold.Kind.PROMISE: "promised",
    BillHold.Kind.PAUSE: "paused",
}


@transaction.atomic
def leave_chasers(bills: Iterable[Bill], *, by: Person, now: datetime) -> int:
    """Leave the letter that is due today for each unpaid bill; return how many."""
    if not may.send_chasers(by):
        raise Refused("Only the office can chase.")
    bills = [bill for bill in bills if bill.customer.email]
    gone = _letters_left(bills)
    return sum(_leave(bill, gone.get(bill.pk, ()), now=now) for bill in bills)


def _letters_left(bills: list[Bill]) -> dict[int, list[Sent]]:
    """Return the steps that each bill has had, in one read."""
    left: dict[int, list[Sent]] = {}
    steps: dict[str, StepKey] = {step: step for step in STEPS}
    letters = Notice.objects.filter(
        kind="chase", about_kind="bill", about_id__in=[bill.pk for bill in bills]
    )
    for about_id, key, made_at in letters.values_list("about_id", "key", "made_at"):
        step = steps[key.rpartition(":")[2]]
        left.setdefault(about_id, []).append(Sent(key=step, sent_on=localdate(made_at)))
    return left


def _leave(bill: Bill, sent: Iterable[Sent], *, now: datetime) -> bool:
    today = localdate(now)
    chased = letters_due(
        Chase(
            due_on=bill.falls_due_on,
            issued_on=bill.issued_on,
            today=today,
            sent=tuple(sent),
            stops=_stops(bill),
        )
    )
    step = chased.due_now
    if step is None or now > make_aware(datetime.combine(today, LAST_LETTER_AT)):
        return False
    subject, text = letter(bill, step=step, today=today)
    tray.leave_notice(
        key=f"chase:{bill.pk}:{step}",
        kind="chase",
        to_name=bill.customer.name,
        to_address=bill.customer.email,
        subject=subject,
        text=text,
        about=("bill", bill.pk),
        due_at=max(now, make_aware(datetime.combine(today, FIRST_LETTER_AT))),
        expires_at=make_aware(datetime.combine(today, LAST_LETTER_AT)),
        now=now,
        job_id=bill.job_id,
        paper_id=bill.paper_id,
    )
    return True


def _stops(bill: Bill) -> tuple[Stop, ...]:
    return tuple(
        Stop(kind=STOPS[BillHold.Kind(hold.kind)], until_on=hold.until_on)
        for hold in bill.holds.all()
        if hold.lifted_at is None
    )


def why_not_chase(bill_id: int, *, now: datetime) -> str | None:
    """Say why a letter stands down, from the facts as they are this moment."""
    bill = Bill.objects.unpaid().filter(pk=bill_id).first()
    if bill is None:
        return "The bill has been paid."
    today = localdate(now)
    for hold in bill.holds.filter(lifted_at=None):
        if hold.until_on is None or hold.until_on >= today:
            return f"{hold.get_kind_display()}: {hold.words}"
    return None
