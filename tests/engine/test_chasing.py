from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays, england_bank_holidays
from invoices.engine.chasing import Chase, Sent, Stop, letters_due

SENDING = WorkingDays(england_bank_holidays(range(2025, 2031)))
KEYS = ["copy", "due", "nudge-1", "nudge-2", "firm"]


def chase(due_on=date(2026, 11, 2), today=date(2026, 10, 1), **changes):
    return Chase(due_on=due_on, today=today, **changes)


def days(answer):
    return {step.key: step.on for step in answer.steps}


# Common practice: 5 days before, the day, and 3, 7 and 14 days after. Due Monday
# 2 November 2026: copy Wednesday 28 October, then Thursday 5, Monday 9, Monday 16.
def test_five_steps_around_a_due_day():
    answer = letters_due(chase())
    assert list(days(answer).items()) == [
        ("copy", date(2026, 10, 28)),
        ("due", date(2026, 11, 2)),
        ("nudge-1", date(2026, 11, 5)),
        ("nudge-2", date(2026, 11, 9)),
        ("firm", date(2026, 11, 16)),
    ]
    assert answer.due_now is None
    assert answer.next_on == date(2026, 10, 28)


# Published bank holidays of England and Wales: Easter 2027, Christmas 2026, New Year.
@pytest.mark.parametrize(
    ("due_on", "sent_on"),
    [
        (date(2027, 3, 26), date(2027, 3, 30)),
        (date(2026, 12, 25), date(2026, 12, 29)),
        (date(2026, 11, 28), date(2026, 11, 30)),
        (date(2027, 1, 1), date(2027, 1, 4)),
    ],
)
def test_no_letter_leaves_on_a_weekend_or_bank_holiday(due_on, sent_on):
    assert days(letters_due(chase(due_on=due_on)))["due"] == sent_on


# Due Good Friday 26 March 2027: the due letter moves to Tuesday 30, where nudge 1
# (29 March, Easter Monday) would land too; three days on is Friday 2 April. Nudge 2
# would be 5 April, but two letters in seven days are enough: 30 March + 7 = 6 April.
def test_a_moved_letter_pushes_the_next_ones_along():
    on = days(letters_due(chase(due_on=date(2027, 3, 26))))
    assert on["nudge-1"] == date(2027, 4, 2)
    assert on["nudge-2"] == date(2027, 4, 6)


@pytest.mark.parametrize(
    ("today", "key"),
    [
        (date(2026, 11, 2), "due"),
        (date(2026, 11, 4), "due"),
        (date(2026, 11, 10), "nudge-2"),
        (date(2026, 12, 1), "firm"),
    ],
)
def test_a_late_run_sends_only_the_latest_step(today, key):
    answer = letters_due(chase(today=today))
    states = {step.key: step.state for step in answer.steps}
    assert answer.due_now == key
    assert [k for k in KEYS if states[k] == "overtaken"] == KEYS[: KEYS.index(key)]


def test_on_a_sunday_nothing_is_due_but_monday_is_next():
    answer = letters_due(chase(today=date(2026, 11, 8)))
    assert answer.due_now is None
    assert answer.next_on == date(2026, 11, 9)


def test_a_second_run_on_the_same_day_sends_nothing():
    first = chase(today=date(2026, 11, 10))
    sent = (Sent(key="nudge-2", sent_on=date(2026, 11, 10)),)
    assert letters_due(first).due_now == "nudge-2"
    assert letters_due(replace(first, sent=sent)).due_now is None


@pytest.mark.parametrize(
    ("kind", "words"), [("paid", "paid"), ("disputed", "dispute"), ("paused", "paused")]
)
def test_what_stops_the_letters_stops_them_all(kind, words):
    going = chase(today=date(2026, 11, 10))
    answer = letters_due(replace(going, stops=(Stop(kind=kind),)))
    assert letters_due(going).due_now == "nudge-2"
    assert answer.due_now is answer.next_on is None
    assert all(words in s.why for s in answer.steps if s.state == "stopped")


# Promised until Friday 13 November: the next sending day is Monday 16, and by then the
# firm letter is due as well, so that is the one that goes.
def test_a_promise_holds_the_letters_until_it_is_broken():
    promised = (Stop(kind="promised", until_on=date(2026, 11, 13)),)
    held = letters_due(chase(today=date(2026, 11, 13), stops=promised))
    broken = letters_due(chase(today=date(2026, 11, 16), stops=promised))
    assert held.due_now is None
    assert held.next_on == date(2026, 11, 16)
    assert broken.due_now == "firm"


def test_a_letter_says_that_a_promise_held_it_back():
    promised = (Stop(kind="promised", until_on=date(2026, 11, 20)),)
    last = letters_due(chase(today=date(2026, 11, 10), stops=promised)).steps[-1]
    assert (last.on, last.state) == (date(2026, 11, 23), "to_come")
    assert "held until then" in last.why


def test_a_bill_with_short_terms_gets_no_copy_on_its_heels():
    short = chase(issued_on=date(2026, 10, 26))
    assert {s.key: s.state for s in letters_due(short).steps}["copy"] == "overtaken"
    early = letters_due(replace(short, issued_on=date(2026, 10, 25)))
    assert {s.key: s.state for s in early.steps}["copy"] == "to_come"


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"sent": (Sent(key="due", sent_on=date(2026, 10, 2)),)}, "sent[0].sent_on"),
        ({"sent": (Sent(key="due", sent_on=date(2026, 9, 2)),) * 2}, "sent"),
        ({"stops": (Stop(kind="promised"),)}, "stops[0].until_on"),
    ],
)
def test_a_history_that_cannot_be_is_refused(changes, field):
    assert letters_due(chase()).steps
    with pytest.raises(Refused) as refusal:
        letters_due(replace(chase(), **changes))
    assert refusal.value.field == field
    assert str(refusal.value).endswith(".")


def sent_over(due_on, runs):
    """Run on the days given, sending what each run says is due."""
    sent = ()
    for today in runs:
        key = letters_due(chase(due_on=due_on, today=today, sent=sent)).due_now
        if key:
            sent += (Sent(key=key, sent_on=today),)
    return sent


due_days = st.dates(date(2026, 1, 20), date(2028, 12, 1))
gaps = st.lists(st.integers(0, 9), min_size=1, max_size=30)


@given(due_days, gaps)
def test_letters_keep_their_distance_however_late_the_runs(due_on, waits):
    runs, today = [], due_on - timedelta(days=10)
    for wait in waits:
        today += timedelta(days=wait)
        runs.append(today)
    sent = sent_over(due_on, runs)
    on = [letter.sent_on for letter in sent]
    keys = [KEYS.index(letter.key) for letter in sent]
    assert keys == sorted(set(keys))
    assert all(SENDING.is_working(day) for day in on)
    assert all((b - a).days >= 3 for a, b in pairwise(on))
    assert all((c - a).days >= 7 for a, c in zip(on, on[2:], strict=False))


@given(due_days)
def test_daily_runs_send_every_step_once(due_on):
    runs = [due_on + timedelta(days=n) for n in range(-10, 60)]
    assert [letter.key for letter in sent_over(due_on, runs)] == KEYS
