"""Offer times for going to see a job, beside the visits already in the diary.

Comes in: the district of the new place, the visits that one person has, the firm's
working days and the times at which a visit may start. Goes out: free times, the
handiest first, each with its reason in words. Which times a person can drive between
is not reckoned: districts that are the same are near, and all others are not.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays

LOOK_AHEAD_WORKING_DAYS = 10
MOST_OFFERS = 6
# Two a day at most: whoever is out that day has to be able to pick another.
MOST_A_DAY = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingVisit:
    """A visit that the person has in the diary."""

    on: date
    at: time
    district: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitTime:
    """A time when the person is free, and what speaks for it."""

    on: date
    at: time
    reason: str


def visit_times(
    *,
    district: str,
    standing: Sequence[StandingVisit],
    times: Sequence[time],
    days: WorkingDays,
    today: date,
    gone: time,
) -> list[VisitTime]:
    """Return the handiest free times of the next ten working days.

    First the days with a visit in the same district, one van journey for two looks;
    on each the time next to that visit; then the earliest. Of today only what comes
    after the time that is ``gone``, by the clock on the wall.

    >>> reed = StandingVisit(
    ...     on=date(2026, 11, 26), at=time(8), district="AB1", name="Mrs Reed"
    ... )
    >>> offers = visit_times(
    ...     district="AB1", standing=[reed], times=[time(8), time(9, 30)],
    ...     days=WorkingDays(frozenset()), today=date(2026, 11, 24), gone=time(12),
    ... )
    >>> offers[0].at, offers[0].reason
    (datetime.time(9, 30), "after Mrs Reed's visit in the same district")
    """
    if not times:
        raise Refused("There are no times at which a visit may start.")
    taken = {(visit.on, visit.at) for visit in standing}
    found = [
        _judged(on, at, district, standing, times)
        for on in _days_ahead(days, today)
        for at in times
        if (on, at) not in taken and (on, at) > (today, gone)
    ]
    found.sort(key=lambda judged: (judged[0], judged[1].on, judged[1].at))
    return _spread([offer for _, offer in found])


def _days_ahead(days: WorkingDays, today: date) -> list[date]:
    ahead = [days.next_on_or_after(today)]
    while len(ahead) < LOOK_AHEAD_WORKING_DAYS:
        ahead.append(days.next_on_or_after(ahead[-1] + timedelta(days=1)))
    return ahead


def _judged(
    on: date,
    at: time,
    district: str,
    standing: Sequence[StandingVisit],
    times: Sequence[time],
) -> tuple[tuple[bool, bool], VisitTime]:
    """Return how far from handy a time is, and the time with its reason."""
    that_day = [visit for visit in standing if visit.on == on]
    near = [visit for visit in that_day if district and visit.district == district]
    beside = _beside(at, near or that_day, times)
    company = beside or (near[0] if near else None)
    if company is None:
        reason = "out on another visit that day" if that_day else "a clear day"
    else:
        whose = company.name + ("'" if company.name.endswith("s") else "'s")
        reason = f"{_word(company, at, beside)} {whose} visit in "
        reason += "the same district" if near else (company.district or "another place")
    return (not near, beside is None), VisitTime(on=on, at=at, reason=reason)


def _beside(
    at: time, visits: Sequence[StandingVisit], times: Sequence[time]
) -> StandingVisit | None:
    """Return the visit at the time before, or else at the time after."""
    in_order = sorted(times)
    place = in_order.index(at)
    neighbours = in_order[max(place - 1, 0) : place] + in_order[place + 1 : place + 2]
    by_time = {visit.at: visit for visit in visits}
    return next((by_time[near] for near in neighbours if near in by_time), None)


def _word(company: StandingVisit, at: time, beside: StandingVisit | None) -> str:
    if beside is None:
        return "the same day as"
    return "after" if company.at < at else "before"


def _spread(offers: Sequence[VisitTime]) -> list[VisitTime]:
    kept: list[VisitTime] = []
    for offer in offers:
        that_day = sum(other.on == offer.on for other in kept)
        if that_day < MOST_A_DAY and len(kept) < MOST_OFFERS:
            kept.append(offer)
    return kept
