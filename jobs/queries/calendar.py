"""The firm's working days around a day: England's bank holidays, weekends off."""

import functools
from datetime import date

from firm.engine.working_days import WorkingDays, england_bank_holidays


def working_days_around(day: date) -> WorkingDays:
    """Return a calendar good for a year before the day and two after it."""
    return _working_days(day.year)


@functools.cache
def _working_days(year: int) -> WorkingDays:
    return WorkingDays(england_bank_holidays(range(year - 1, year + 3)))
