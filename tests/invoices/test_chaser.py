"""Chasers go when they are due, on working days, and never after the money came."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from firm.actions.tray import reason_to_stand_down
from firm.models import Notice
from invoices.actions.chaser import leave_chasers
from invoices.actions.hold import hold_bill, lift_hold
from invoices.queries.bill import unpaid_bills
from tests import make

pytestmark = pytest.mark.django_db
LONDON = ZoneInfo("Europe/London")


def at(day, hour=9):
    return datetime.combine(day, time(hour), tzinfo=LONDON)


def round_at(moment):
    return leave_chasers(unpaid_bills(), by=make.office(), now=moment)


def chased() -> list[str]:
    letters = Notice.objects.filter(kind="chase").order_by("pk")
    return [letter.key.rpartition(":")[2] for letter in letters]


def test_each_step_goes_on_its_day_and_once():
    """Issued Wed 4 March 2026, due Wed 18 March: the cadence of checks/money.md 8."""
    bill = make.bill()
    for days in range(40):
        for hour in (9, 12):
            round_at(at(bill.issued_on + timedelta(days=days), hour))
    assert chased() == ["copy", "due", "nudge-1", "nudge-2", "firm"]
    days = Notice.objects.filter(kind="chase").values_list("due_at", flat=True)
    assert all(day.astimezone(LONDON).weekday() < 5 for day in days)


def test_a_chaser_meant_for_good_friday_waits_until_after_easter():
    """Good Friday is 3 April 2026, Easter Monday 6 April (GOV.UK, from memory)."""
    bill = make.bill(on=date(2026, 3, 17))
    due_nudge = bill.due_on + timedelta(days=3)
    assert due_nudge.isoformat() == "2026-04-03"
    for day in ("2026-04-03", "2026-04-04", "2026-04-05", "2026-04-06"):
        assert round_at(at(date.fromisoformat(day))) == 0
    assert round_at(at(date(2026, 4, 7))) == 1


def test_paid_a_second_before_the_letter_stands_down():
    bill = make.bill()
    moment = at(bill.due_on)
    round_at(moment)
    letter = Notice.objects.get(kind="chase")
    assert reason_to_stand_down(letter, moment) is None
    make.payment(bill, "1038.94", received_on=make.TODAY)
    letter = Notice.objects.get(kind="chase")
    assert reason_to_stand_down(letter, moment) == "The bill has been paid."


def test_a_late_night_round_leaves_nothing_for_the_small_hours():
    bill = make.bill()
    assert round_at(at(bill.due_on, 20)) == 0


def test_a_dispute_stops_the_letters_until_it_is_lifted():
    bill = make.bill()
    hold_bill(
        bill.pk,
        kind="dispute",
        words="Says the ceiling cracked.",
        until_on=None,
        by=make.office(),
        now=make.NOW,
    )
    assert round_at(at(bill.due_on)) == 0
    lift_hold(bill.pk, by=make.office(), now=make.NOW)
    assert round_at(at(bill.due_on)) == 1


def test_a_promise_holds_until_its_day_has_gone():
    bill = make.bill()
    promised = bill.due_on + timedelta(days=5)
    hold_bill(
        bill.pk,
        kind="promise",
        words="Wages come on the 23rd.",
        until_on=promised,
        by=make.office(),
        now=make.NOW,
    )
    assert round_at(at(promised)) == 0
    assert round_at(at(promised + timedelta(days=1))) == 1


def test_a_dispute_after_the_letter_was_left_stops_that_letter():
    bill = make.bill()
    round_at(at(bill.due_on))
    hold_bill(
        bill.pk,
        kind="dispute",
        words="Wrong colour.",
        until_on=None,
        by=make.office(),
        now=make.NOW,
    )
    assert Notice.objects.get(kind="chase").state == "stopped"


def test_twenty_bills_are_looked_at_in_a_handful_of_reads(
    django_assert_max_num_queries,
):
    for _ in range(20):
        make.bill(make.finished_job())
    make.office()
    with django_assert_max_num_queries(6):
        round_at(at(make.TODAY))
