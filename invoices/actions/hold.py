"""Stop chasing a bill for a reason, and start again."""

from datetime import date, datetime

from django.db import transaction
from django.utils.timezone import localdate

from firm import may
from firm.actions import history, tray
from firm.engine.refusal import Refused
from firm.models import Person
from invoices.models import Bill, BillHold

ONLY_THE_OFFICE = "Only the office can stop or start the chasing of a bill."


@transaction.atomic
def hold_bill(
    bill_id: int,
    *,
    kind: str,
    words: str,
    until_on: date | None,
    by: Person,
    now: datetime,
) -> None:
    """Stop chasing: in dispute, promised by a day, or paused."""
    if not may.stop_chasers(by):
        raise Refused(ONLY_THE_OFFICE)
    if kind == BillHold.Kind.PROMISE and until_on is None:
        raise Refused("Give the day they promised to pay by.", "until_on")
    if until_on is not None and until_on < localdate(now):
        raise Refused("That day has gone by. Give a day from today on.", "until_on")
    bill = Bill.objects.select_for_update().issued().get(pk=bill_id)
    if bill.holds.filter(lifted_at=None).exists():
        raise Refused("This bill is on hold already. Lift that first.")
    hold = BillHold.objects.create(
        bill=bill, kind=kind, words=words, until_on=until_on, set_by=by, set_at=now
    )
    because = f"{hold.get_kind_display()}: {words}"
    tray.stop_notices(key_prefix=f"chase:{bill.pk}:", because=because, now=now)
    _tell(bill, "bill-held", f"{bill} is not chased. {because}", by=by, now=now)


@transaction.atomic
def lift_hold(bill_id: int, *, by: Person, now: datetime) -> None:
    """Chase the bill again from the next round on."""
    if not may.stop_chasers(by):
        raise Refused(ONLY_THE_OFFICE)
    standing = BillHold.objects.filter(bill_id=bill_id, lifted_at=None)
    if not standing.update(lifted_at=now):
        raise Refused("This bill is not on hold.")
    bill = Bill.objects.get(pk=bill_id)
    _tell(bill, "bill-let-go", f"{bill} is chased again.", by=by, now=now)


def _tell(bill: Bill, event: str, words: str, *, by: Person, now: datetime) -> None:
    history.write(about=("job", bill.job_id), event=event, words=words, now=now, by=by)
