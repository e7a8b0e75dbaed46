from dataclasses import replace
from datetime import date

import pytest

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays, england_bank_holidays
from firm.models import HistoryLine
from jobs.actions import other_trade as actions
from jobs.models import OtherTrade
from tests import make

pytestmark = pytest.mark.django_db

CALENDAR = WorkingDays(england_bank_holidays([2026]))
SPARKS = actions.TradeFacts(side="before", trade="Electrician", who="Vi Volt")
SURE = replace(SPARKS, ready_on=date(2026, 4, 2), sure="promised")


def add(job, facts):
    return actions.add_other_trade(job.pk, facts, by=make.office(), now=make.NOW)


def put_off(trade, days):
    actions.put_off_other_trade(
        trade.pk, days, CALENDAR, by=make.office(), now=make.NOW
    )


def test_a_day_that_is_not_known_stays_unknown():
    trade = add(make.job(), SPARKS)
    assert (trade.ready_on, trade.sure) == (None, "unknown")
    assert HistoryLine.objects.get().words == "Electrician: day not known."


def test_a_promise_keeps_its_day_and_a_number_its_shape():
    trade = add(make.job(), replace(SURE, phone="01632 960444"))
    assert trade.phone == "+441632960444"
    words = HistoryLine.objects.get().words
    assert words == "Electrician: promised for Thu 2 Apr."


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        (replace(SURE, ready_on=None), "ready_on"),
        (replace(SURE, sure="unknown"), "sure"),
    ],
)
def test_a_day_and_its_word_go_together(facts, field):
    with pytest.raises(Refused) as refusal:
        add(make.job(), facts)
    assert refusal.value.field == field
    assert not OtherTrade.objects.exists()


def test_three_days_late_counts_working_days_over_easter():
    trade = add(make.job(), SURE)
    put_off(trade, 3)
    trade.refresh_from_db()
    # Thu 2 April 2026; Good Friday 3 and Easter Monday 6 April are holidays
    # (GOV.UK bank holidays, read November 2026), so Tue 7, Wed 8, Thu 9.
    assert trade.ready_on == date(2026, 4, 9)
    line = HistoryLine.objects.get(event="trade-late")
    assert line.words == (
        "Electrician 3 working days late: Thu 2 Apr, now promised for Thu 9 Apr."
    )


def test_an_unknown_day_cannot_be_late():
    trade = add(make.job(), SPARKS)
    with pytest.raises(Refused, match="No day is known for the electrician"):
        put_off(trade, 3)


@pytest.mark.parametrize("days", [0, -1, 61])
def test_lateness_has_bounds(days):
    trade = add(make.job(), SURE)
    with pytest.raises(Refused, match="between 1 and 60"):
        put_off(trade, days)


def test_an_edit_tells_both_days():
    trade = add(make.job(), SPARKS)
    actions.edit_other_trade(trade.pk, SURE, by=make.office(), now=make.NOW)
    line = HistoryLine.objects.get(event="trade-changed")
    assert line.words == "Electrician: day not known, now promised for Thu 2 Apr."


def test_a_trade_taken_off_leaves_its_line():
    trade = add(make.job(), SPARKS)
    actions.drop_other_trade(trade.pk, by=make.office(), now=make.NOW)
    assert not OtherTrade.objects.exists()
    assert HistoryLine.objects.filter(event="trade-dropped").exists()


@pytest.mark.parametrize("role", ["lead", "crew", "books"])
def test_only_the_desk_writes_trades_down(role):
    job, person = make.job(), make.person(role)
    with pytest.raises(Refused, match="Only the office"):
        actions.add_other_trade(job.pk, SURE, by=person, now=make.NOW)
    assert not OtherTrade.objects.exists()
