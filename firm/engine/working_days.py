"""The firm's working days: Monday to Friday, less the bank holidays it is given.

Days come in and go out as plain dates in UK time. The holidays are an argument, so
that a firm may add its own shutdown; a year whose holidays are not given has none, so
ask for the years around the dates in question.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

import holidays as published

from firm.engine.refusal import Refused

ONE_DAY = timedelta(days=1)
SATURDAY = 5
LONGEST_CLOSURE_DAYS = 366


def england_bank_holidays(years: Iterable[int]) -> frozenset[date]:
    """Return the bank holidays of England and Wales in the years asked for.

    When a holiday falls on a weekend the list holds the day itself *and* its
    substitute (26 and 28 December 2026); the list on GOV.UK holds the substitute only.
    For working days that is the same, because a Saturday is none. It would not do for
    the Construction Act's periods, where weekends count (HGCRA 1996, s. 116).

    >>> date(2026, 12, 28) in england_bank_holidays([2026])
    True
    """
    wanted = sorted(set(years))
    return frozenset(published.country_holidays("GB", subdiv="ENG", years=wanted))


@dataclass(frozen=True, slots=True)
class WorkingDays:
    """A calendar that knows which days the firm works and sends letters.

    >>> easter = WorkingDays(england_bank_holidays([2027]))
    >>> easter.next_on_or_after(date(2027, 3, 26))
    datetime.date(2027, 3, 30)
    """

    holidays: frozenset[date]

    def is_working(self, day: date) -> bool:
        """Say whether the firm works that day."""
        return day.weekday() < SATURDAY and day not in self.holidays

    def next_on_or_after(self, day: date) -> date:
        """Return the day itself if it is worked, otherwise the next worked day."""
        for days in range(LONGEST_CLOSURE_DAYS):
            if self.is_working(day + days * ONE_DAY):
                return day + days * ONE_DAY
        raise Refused(f"The calendar has no working day in the year after {day}.")

    def shift_off_holidays(self, day: date) -> date:
        """Return the day on which a letter meant for that day may leave.

        A letter on a Sunday or on Christmas Day does not get the firm paid sooner; it
        only annoys. Late, never early: nobody is chased before the day is up.
        """
        return self.next_on_or_after(day)

    def add(self, day: date, n: int) -> date:
        """Count n working days on from a day (back when n is negative).

        The day itself never counts, so n = 1 after a Friday is Monday. With n = 0 a
        day off moves to the next working day.
        """
        if n == 0:
            return self.next_on_or_after(day)
        step = ONE_DAY if n > 0 else -ONE_DAY
        left, idle = abs(n), 0
        while left:
            day += step
            idle = 0 if self.is_working(day) else idle + 1
            left -= not idle
            if idle > LONGEST_CLOSURE_DAYS:
                raise Refused("The calendar has no working day in a whole year.")
        return day
