"""Find where a job fits in the diary: free runs of half-days, earliest first.

Comes in: hours of plasterer and labourer, what each crew is on and when it is off,
the days of the other trades, and the firm's working days. Goes out: runs of half-days
a crew could take, and what stands in the way of anything earlier. Weekends and bank
holidays are stepped over; a crew's own time off breaks a run, because a job left
half done for a holiday is not left at all. Nothing is booked here and no order of all
jobs is sought: one job is put beside a diary as it stands.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, time, timedelta
from decimal import Decimal
from typing import NamedTuple

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays

MORNING, AFTERNOON = "am", "pm"
# When a crew is on site. Common practice: half an hour for dinner in between.
STARTS_AT = {MORNING: time(8, 0), AFTERNOON: time(12, 30)}
HALF_DAYS_A_DAY = 2
LONGEST_VISIT_DAYS = 60
ONE_DAY = timedelta(days=1)


class Half(NamedTuple):
    """Half a day; a morning comes before the afternoon of its day."""

    on: date
    half: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """What the job takes, and what a day of any job costs in clearing down."""

    plasterer_hours: Decimal
    labourer_hours: Decimal
    day_hours: Decimal
    clear_plasterer_hours: Decimal
    clear_labourer_hours: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A half-day that is given away, to which job and where."""

    job: str
    district: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Off:
    """Days on which a crew does not work."""

    first_on: date
    last_on: date
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewDiary:
    """A crew as the diary stands."""

    crew_id: int
    name: str
    plasterers: int
    labourers: int
    taken: Mapping[Half, Taken]
    off: tuple[Off, ...]

    def off_on(self, day: date) -> Off | None:
        """Return the time off that covers the day, if any does."""
        return next((o for o in self.off if o.first_on <= day <= o.last_on), None)

    def is_free(self, half: Half) -> bool:
        """Say whether the crew could work that half-day."""
        return half not in self.taken and self.off_on(half.on) is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A run of half-days that one crew could give to the job."""

    crew: CrewDiary
    halves: tuple[Half, ...]

    @property
    def start(self) -> Half:
        """Return the first half-day."""
        return self.halves[0]

    @property
    def last(self) -> Half:
        """Return the last half-day."""
        return self.halves[-1]


def half_days_needed(labour: Labour, *, plasterers: int, labourers: int) -> int:
    """Return the fewest half-days in which a crew does the work.

    The busier of the two trades decides, and every day on site costs its clearing
    down. A crew without a labourer carries the labourer's hours itself.

    >>> skim = Labour(
    ...     plasterer_hours=Decimal("7.4"), labourer_hours=Decimal("3.7"),
    ...     day_hours=Decimal("7.5"), clear_plasterer_hours=Decimal("0.25"),
    ...     clear_labourer_hours=Decimal("0.5"))
    >>> half_days_needed(skim, plasterers=1, labourers=1)
    3
    """
    if plasterers < 1:
        raise Refused("A crew needs at least one plasterer.", field="plasterers")
    if labour.day_hours <= 0:
        raise Refused("A day needs working hours.", field="day_hours")
    for count in range(1, LONGEST_VISIT_DAYS * HALF_DAYS_A_DAY + 1):
        time_hours = labour.day_hours * count / HALF_DAYS_A_DAY
        if _busiest_hours(labour, count, plasterers, labourers) <= time_hours:
            return count
    raise Refused(
        f"This is more than {LONGEST_VISIT_DAYS} days of work for one crew."
        " Split the job, or put more people in the crew."
    )


def _busiest_hours(
    labour: Labour, count: int, plasterers: int, labourers: int
) -> Decimal:
    days = -(-count // HALF_DAYS_A_DAY)
    plastering = labour.plasterer_hours + days * labour.clear_plasterer_hours
    labouring = labour.labourer_hours + days * labour.clear_labourer_hours
    if labourers == 0:
        return (plastering + labouring) / plasterers
    return max(plastering / plasterers, labouring / labourers)


def following_half(half: Half, days: WorkingDays) -> Half:
    """Return the next half-day that the firm works."""
    if half.half == MORNING:
        return Half(half.on, AFTERNOON)
    return Half(days.next_on_or_after(half.on + ONE_DAY), MORNING)


def run_of(start: Half, count: int, days: WorkingDays) -> tuple[Half, ...]:
    """Return so many working half-days in a row, weekends and holidays stepped over.

    >>> friday = Half(date(2027, 3, 5), "pm")
    >>> run = run_of(friday, 2, WorkingDays(frozenset()))
    >>> [f"{half.on:%a} {half.half}" for half in run]
    ['Fri pm', 'Mon am']
    """
    run = [start]
    while len(run) < count:
        run.append(following_half(run[-1], days))
    return tuple(run)


def may_start_at(half: Half, count: int) -> bool:
    """Say whether a visit may begin then: the longer ones begin in the morning.

    A bag mixed after dinner on a two-day job only means two set-ups for one.
    """
    return count == 1 or half.half == MORNING


def free_slots(
    crew: CrewDiary,
    *,
    count: int,
    from_half: Half,
    until_on: date,
    days: WorkingDays,
    most: int,
) -> tuple[Slot, ...]:
    """Return the crew's first few free runs that start on or after a half-day.

    Runs never overlap one another, so that each suggestion is a different one.

    >>> idle = CrewDiary(crew_id=1, name="Crew A", plasterers=1, labourers=1,
    ...                  taken={}, off=())
    >>> monday = Half(date(2027, 3, 8), "am")
    >>> slots = free_slots(idle, count=2, from_half=monday, until_on=date(2027, 4, 2),
    ...                    days=WorkingDays(frozenset()), most=2)
    >>> [str(slot.start.on) for slot in slots]
    ['2027-03-08', '2027-03-09']
    """
    slots: list[Slot] = []
    half = first_working_half(from_half, days)
    while half.on <= until_on and len(slots) < most:
        run = run_of(half, count, days)
        if may_start_at(half, count) and all(crew.is_free(each) for each in run):
            slots.append(Slot(crew=crew, halves=run))
            half = run[-1]
        half = following_half(half, days)
    return tuple(slots)


def first_working_half(half: Half, days: WorkingDays) -> Half:
    """Return the half-day itself when the firm works then, else the next one."""
    if days.is_working(half.on):
        return half
    return Half(days.next_on_or_after(half.on), MORNING)


def days_late(slot: Slot, wanted_by_on: date | None, days: WorkingDays) -> int:
    """Count the working days by which a slot misses the day the customer named.

    >>> busy = CrewDiary(crew_id=1, name="Crew A", plasterers=1, labourers=1,
    ...                  taken={}, off=())
    >>> monday = Slot(crew=busy, halves=(Half(date(2027, 3, 8), "am"),))
    >>> days_late(monday, date(2027, 3, 5), WorkingDays(frozenset()))
    1
    """
    if wanted_by_on is None:
        return 0
    late, day = 0, wanted_by_on
    while day < slot.last.on:
        day += ONE_DAY
        late += days.is_working(day)
    return late
