"""The last two steps: the bill and the money, and what is left to do."""

from datetime import datetime, timedelta
from io import StringIO
from uuid import uuid4

from django.core.management import call_command
from django.db import DatabaseError, transaction
from django.utils.timezone import localdate

from firm.actions.rounds import all_rounds
from firm.management.demo import above
from firm.management.demo.days import moment
from firm.management.touring.walk import Surprise, Walk
from firm.models import Notice
from firm.templatetags.figures import pounds, short_day

NUDGE = ":nudge-1"
# The first nudge is due three days after the bill; a holiday season may hold it up.
LONGEST_WAIT_DAYS = 40


def the_bill(walk: Walk) -> None:
    last = above.booking.halves_of(walk.booking)[-1]
    now = moment(last.on, "15:40")
    walk.step(8, "Done, billed, paid", now)
    lead = walk.cast.lead_of(walk.booking.crew.name)
    above.finish.finish_job(walk.job.pk, by=lead, now=now)
    walk.bill = above.bill.issue_bill(
        walk.job.pk, by=walk.cast.office, today=localdate(now), now=now
    )
    walk.say(
        f"{walk.bill}: {pounds(walk.bill.net_gbp)} and VAT {pounds(walk.bill.vat_gbp)},"
        f" {pounds(walk.bill.payable_gbp)} due on {short_day(walk.bill.due_on)}"
    )
    walk.holds(
        walk.bill.payable_gbp == walk.version.gross_gbp, "the bill is what was quoted"
    )
    walk.holds(_is_frozen(walk), "the database lets nobody change it")
    walk.holds(walk.work_the_tray(now)[0].attached, "the customer has the bill")
    _pay_just_in_time(walk, now)


def _is_frozen(walk: Walk) -> bool:
    bills = above.bill_models.Bill.objects.filter(pk=walk.bill.pk)
    try:
        with transaction.atomic():
            bills.update(net_gbp=1)
    except DatabaseError:
        return True
    return False


def _pay_just_in_time(walk: Walk, now: datetime) -> None:
    """Let a reminder be picked up, and pay before its words have left."""
    claims, now = _until_a_nudge_is_in_hand(walk, now)
    above.payment.enter_payment(
        customer_id=walk.bill.customer_id,
        amount_gbp=walk.bill.payable_gbp,
        received_on=localdate(now),
        method="bank",
        reference=f"BILL {walk.bill.number}",
        first_bill_id=walk.bill.pk,
        form_key=uuid4(),
        by=walk.cast.books,
        now=now + timedelta(seconds=1),
    )
    walk.say(f"{pounds(walk.bill.payable_gbp)} came in on {short_day(localdate(now))}")
    bill = above.bill_models.Bill.objects.with_balance().get(pk=walk.bill.pk)
    walk.holds(bill.owed_gbp == 0, "the bill is paid in full, to the penny")
    stopped = walk.post.send(claims)[0]
    walk.holds(
        stopped.state == Notice.State.STOPPED and stopped.tries == 0,
        f"paid a second before: “{stopped.subject}” stood down, unsent",
    )


def _until_a_nudge_is_in_hand(
    walk: Walk, now: datetime
) -> tuple[list[tuple[int, int]], datetime]:
    for n in range(1, LONGEST_WAIT_DAYS):
        day = walk.days.later(localdate(now), n, "09:00")
        all_rounds()["chasing"](day)
        if Notice.objects.filter(kind="chase", key__endswith=NUDGE).exists():
            return walk.post.claim(now=day), day
        walk.work_the_tray(day)
    raise Surprise("Nobody was reminded of the bill.")


def what_is_left(walk: Walk) -> None:
    now = moment(walk.days.calendar.add(walk.bill.due_on, 4), "17:30")
    walk.step(9, "Today, for each of them", now)
    for person in (walk.cast.owner, walk.cast.office, walk.cast.books):
        pieces = above.today.pieces_for(person, today=localdate(now))
        walk.holds(not pieces, f"nothing is left for {person.name} to do")
    said = StringIO()
    call_command("audit", stdout=said)
    walk.say(said.getvalue().strip())
    in_hand = Notice.objects.waiting().count()
    walk.holds(in_hand == 0, "the tray is empty")
