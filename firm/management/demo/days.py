"""Working days counted from today, and a clock that the demo's month runs on."""

import heapq
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from itertools import count

from django.utils.timezone import get_default_timezone, localdate

from firm.engine.working_days import WorkingDays, england_bank_holidays

Act = Callable[[datetime], object]
ONE_DAY = timedelta(days=1)


class Days:
    """Day 0 is today, or on a day off the working day before."""

    def __init__(self, now: datetime) -> None:
        self.today = localdate(now)
        years = range(self.today.year - 1, self.today.year + 3)
        self.calendar = WorkingDays(england_bank_holidays(years))

    def on(self, n: int) -> date:
        if n > 0:
            return self.calendar.add(self.today, n)
        return self.calendar.add(self.today + ONE_DAY, n - 1)

    def at(self, words: str) -> datetime:
        """Read "-3 09:15"."""
        day, clock = words.split()
        return moment(self.on(int(day)), clock)

    def later(self, day: date, n: int, clock: str) -> datetime:
        """Return a time on the nth working day after a day; 0 is the day itself."""
        return moment(self.calendar.add(day, n), clock)

    def since(self, n: int) -> list[date]:
        """Return the working days from the nth to today."""
        first = self.on(n)
        days = (first + i * ONE_DAY for i in range((self.today - first).days + 1))
        return [day for day in days if self.calendar.is_working(day)]


def moment(day: date, clock: str) -> datetime:
    at = time.fromisoformat(clock)
    return datetime.combine(day, at, tzinfo=get_default_timezone())


class Clock:
    """Does what is planned in the order of its moments, up to now and no further."""

    def __init__(self, now: datetime) -> None:
        self.now = now
        self._planned: list[tuple[datetime, int, Act]] = []
        self._order = count()

    def plan(self, at: datetime, act: Act) -> None:
        """Keep an act for its moment; one that is still to come is left out."""
        if at <= self.now:
            heapq.heappush(self._planned, (at, next(self._order), act))

    def run(self) -> None:
        while self._planned:
            at, _, act = heapq.heappop(self._planned)
            act(at)
