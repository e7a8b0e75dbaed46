from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays, england_bank_holidays

YEARS = range(2025, 2031)
CALENDAR = WorkingDays(england_bank_holidays(YEARS))
days = st.dates(date(2025, 1, 10), date(2029, 12, 1))


# Source: GOV.UK bank holidays for England and Wales, 2026 (from memory: 3 and 6 April,
# 4 and 25 May, 31 August); 26 December 2026 is a Saturday, its substitute Monday 28.
def test_bank_holidays_of_2026_are_those_published():
    assert england_bank_holidays([2026]) == {
        date(2026, 1, 1),
        date(2026, 4, 3),
        date(2026, 4, 6),
        date(2026, 5, 4),
        date(2026, 5, 25),
        date(2026, 8, 31),
        date(2026, 12, 25),
        date(2026, 12, 26),
        date(2026, 12, 28),
    }


# Send-date shifts worked from the published holidays: Good Friday and Easter Monday
# 2027; Christmas 2026 with its substitute Monday; a Saturday; New Year's Day 2027.
@pytest.mark.parametrize(
    ("meant", "sent"),
    [
        (date(2027, 3, 26), date(2027, 3, 30)),
        (date(2026, 12, 25), date(2026, 12, 29)),
        (date(2026, 11, 28), date(2026, 11, 30)),
        (date(2027, 1, 1), date(2027, 1, 4)),
    ],
)
def test_a_letter_waits_for_the_next_sending_day(meant, sent):
    assert CALENDAR.shift_off_holidays(meant) == sent
    assert CALENDAR.next_on_or_after(meant) == sent


@pytest.mark.parametrize(
    ("start", "n", "end"),
    [
        (date(2026, 11, 27), 1, date(2026, 11, 30)),  # Friday and one is Monday
        (date(2026, 4, 2), 1, date(2026, 4, 7)),  # Thursday before Easter
        (date(2026, 4, 7), -1, date(2026, 4, 2)),  # and back
        (date(2026, 11, 28), 0, date(2026, 11, 30)),  # Saturday itself
        (date(2026, 12, 24), 3, date(2026, 12, 31)),  # 29, 30, 31
    ],
)
def test_counting_skips_weekends_and_holidays(start, n, end):
    assert CALENDAR.add(start, n) == end


@given(days)
def test_the_next_day_is_worked_and_nothing_between_is(day):
    found = CALENDAR.next_on_or_after(day)
    skipped = [day + timedelta(days=n) for n in range((found - day).days)]
    assert CALENDAR.is_working(found)
    assert not any(CALENDAR.is_working(each) for each in skipped)


@given(days, st.integers(1, 30))
def test_counting_on_and_back_returns_to_a_working_day(day, n):
    start = CALENDAR.next_on_or_after(day)
    assert CALENDAR.add(CALENDAR.add(start, n), -n) == start


def test_a_calendar_of_nothing_but_holidays_is_refused():
    start = date(2026, 1, 1)
    shut = WorkingDays(frozenset(start + timedelta(days=n) for n in range(400)))
    with pytest.raises(Refused, match="no working day"):
        shut.next_on_or_after(start)
    with pytest.raises(Refused, match="no working day"):
        shut.add(start, 1)
