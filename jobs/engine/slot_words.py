"""Suggest slots for a job, each with its reasons, and say what blocks earlier ones.

Comes in: the crews as the diary stands, the trades before us with the day they are
out and how sure that is, the day the customer named. Goes out: suggestions, best
first, in sentences for the phone. A day nobody has named is never guessed: it refuses
until somebody gives one, or gives one to plan as if.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays
from jobs.engine.slots import (
    AFTERNOON,
    MORNING,
    CrewDiary,
    Half,
    Slot,
    days_late,
    first_working_half,
    following_half,
    free_slots,
)

SLOTS_A_CREW = 2
MOST_SUGGESTIONS = 6
LOOK_AHEAD_DAYS = 90
HALF_WORDS = {"am": "morning", "pm": "afternoon"}


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeBefore:
    """Another trade that must be out before we come; `out_on` None: nobody said."""

    trade: str
    out_on: date | None
    sure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """The job to be put in the diary, and for each crew how many half-days."""

    half_days: Mapping[int, int]
    district: str
    wanted_by_on: date | None
    from_on: date
    trades: Sequence[TradeBefore]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A slot, when it is in words, and why it is a good one or not."""

    slot: Slot
    when: str
    reasons: tuple[str, ...]
    working_days_late: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestions:
    """The best slots first, and the sentences that say why none is earlier."""

    best: tuple[Suggestion, ...]
    blocked_by: tuple[str, ...]


def day_words(day: date) -> str:
    """Write a day as people say it.

    >>> day_words(date(2027, 3, 9))
    'Tue 9 Mar'
    """
    return f"{day:%a} {day.day} {day:%b}"


def half_words(half: Half) -> str:
    """Write a half-day as people say it.

    >>> half_words(Half(date(2027, 3, 9), "am"))
    'Tue 9 Mar morning'
    """
    return f"{day_words(half.on)} {HALF_WORDS[half.half]}"


def run_words(halves: Sequence[Half]) -> str:
    """Write a run of half-days from its first to its last.

    >>> tuesday = date(2027, 3, 9)
    >>> run_words([Half(tuesday, "am"), Half(tuesday, "pm")])
    'Tue 9 Mar, all day'
    """
    first, last = halves[0], halves[-1]
    if first == last:
        return half_words(first)
    if first.on == last.on:
        return f"{day_words(first.on)}, all day"
    if (first.half, last.half) == (MORNING, AFTERNOON):
        return f"{day_words(first.on)} to {day_words(last.on)}"
    return f"{half_words(first)} to {half_words(last)}"


def earliest_start(wish: Wish, days: WorkingDays) -> tuple[Half, TradeBefore | None]:
    """Return the first half-day that the job's own facts allow, and who sets it.

    A trade is out at the end of its day, so we come the next worked morning.
    """
    first = first_working_half(Half(wish.from_on, MORNING), days)
    binding = None
    for trade in wish.trades:
        after = morning_after(trade, days)
        if after > first:
            first, binding = after, trade
    return first, binding


def known_day(trade: TradeBefore) -> date:
    """Return the day a trade is out, or refuse when nobody has named one."""
    if trade.out_on is None:
        raise Refused(
            f"Nobody has said when the {trade.trade.lower()} will be done."
            " Ring and ask, or name a day to plan as if.",
            field="as_if_on",
        )
    return trade.out_on


def morning_after(trade: TradeBefore, days: WorkingDays) -> Half:
    """Return the first worked morning once the trade is out."""
    return Half(days.next_on_or_after(known_day(trade) + timedelta(days=1)), MORNING)


def suggest(wish: Wish, crews: Sequence[CrewDiary], days: WorkingDays) -> Suggestions:
    """Return the best slots for a job in the diary as it stands.

    In time for the customer comes first, then the soonest, then a crew that is near
    by anyway: people remember a day kept longer than a mile saved.
    """
    first, binding = earliest_start(wish, days)
    found: list[Slot] = []
    blocked = list(_trade_block(first, binding))
    for crew in crews:
        count = wish.half_days[crew.crew_id]
        slots = free_slots(
            crew,
            count=count,
            from_half=first,
            until_on=_look_until(first),
            days=days,
            most=SLOTS_A_CREW,
        )
        found += slots
        blocked += _crew_blocks(crew, count, first, slots, days)
    found.sort(key=lambda slot: _rank(slot, wish, days))
    best = tuple(
        _suggestion(slot, wish, first, binding, days)
        for slot in found[:MOST_SUGGESTIONS]
    )
    return Suggestions(best=best, blocked_by=tuple(blocked))


def _look_until(first: Half) -> date:
    return first.on + timedelta(days=LOOK_AHEAD_DAYS)


def _rank(slot: Slot, wish: Wish, days: WorkingDays) -> tuple[object, ...]:
    late = days_late(slot, wish.wanted_by_on, days)
    is_far = _near_on(slot, wish.district, days) is None
    return late, slot.start, is_far, slot.last, slot.crew.name


def _suggestion(
    slot: Slot,
    wish: Wish,
    first: Half,
    binding: TradeBefore | None,
    days: WorkingDays,
) -> Suggestion:
    reasons = [
        *(_out_before(binding) if binding and slot.start == first else ()),
        *_near_reason(slot, wish.district, days),
        *_wanted_reason(slot, wish.wanted_by_on, days),
    ]
    if not reasons:
        reasons = [f"{slot.crew.name} has nothing else then."]
    return Suggestion(
        slot=slot,
        when=run_words(slot.halves),
        reasons=tuple(reasons),
        working_days_late=days_late(slot, wish.wanted_by_on, days),
    )


def _out_before(trade: TradeBefore) -> tuple[str, ...]:
    day = day_words(known_day(trade))
    if trade.sure == "promised":
        return (f"The {trade.trade.lower()} is out on {day}.",)
    return (
        (
            f"The {trade.trade.lower()} expects to be out on {day}: ring before the day"
            " is promised."
        ),
    )


def _near_on(slot: Slot, district: str, days: WorkingDays) -> date | None:
    """Return a day within one working day of the slot when the crew is near by."""
    first_on = days.add(slot.start.on, -1)
    last_on = days.add(slot.last.on, 1)
    near = [
        half.on
        for half, taken in slot.crew.taken.items()
        if first_on <= half.on <= last_on and taken.district == district != ""
    ]
    return min(near, default=None)


def _near_reason(slot: Slot, district: str, days: WorkingDays) -> tuple[str, ...]:
    near_on = _near_on(slot, district, days)
    if near_on is None:
        return ()
    return (f"{slot.crew.name} is in {district} on {day_words(near_on)} as well.",)


def _wanted_reason(
    slot: Slot, wanted_by_on: date | None, days: WorkingDays
) -> tuple[str, ...]:
    if wanted_by_on is None:
        return ()
    late = days_late(slot, wanted_by_on, days)
    wanted = day_words(wanted_by_on)
    if late:
        unit = "working day" if late == 1 else "working days"
        return (f"{late} {unit} later than the customer wants it ({wanted}).",)
    return (f"Done by {day_words(slot.last.on)}; the customer wants it by {wanted}.",)


def _trade_block(first: Half, trade: TradeBefore | None) -> tuple[str, ...]:
    if trade is None:
        return ()
    return (
        (
            f"Nothing before {half_words(first)}: the {trade.trade.lower()} is out on"
            f" {day_words(known_day(trade))} ({trade.sure})."
        ),
    )


def _crew_blocks(
    crew: CrewDiary, count: int, first: Half, slots: Sequence[Slot], days: WorkingDays
) -> list[str]:
    if not slots:
        until_on = _look_until(first)
        return [
            f"{crew.name} has no run of {count} half-days before {day_words(until_on)}."
        ]
    return _busy_words(crew, first, slots[0].start, days)


def _busy_words(
    crew: CrewDiary, first: Half, start: Half, days: WorkingDays
) -> list[str]:
    """Say what the crew is on between two half-days, one sentence a stretch."""
    halves = []
    while first < start:
        halves.append(first)
        first = following_half(first, days)
    stretches = groupby(halves, key=lambda half: _why_not_free(crew, half))
    return [
        f"{crew.name} is {why}: {run_words(list(stretch))}."
        for why, stretch in stretches
        if why
    ]


def _why_not_free(crew: CrewDiary, half: Half) -> str:
    off = crew.off_on(half.on)
    if off is not None:
        return f"off ({off.reason})" if off.reason else "off"
    taken = crew.taken.get(half)
    return f"on {taken.job}" if taken else ""
