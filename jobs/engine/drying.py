"""When the next trade may follow: the finish date in, start dates out.

Plaster dries on calendar days; people start on working days. Two ways of counting are
met, so it is a setting. Clear days: the follower starts on the first working day from
the finish plus n plus one. Elapsed: from the finish plus n. The figures are defaults
of the trade; the look of the wall and a meter win over the calendar.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal
from typing import Literal, Protocol

from firm.engine.refusal import Refused
from firm.engine.trade.drying import (
    AIRS,
    DRYING,
    FOLLOWERS,
    Air,
    Coating,
    DryingRow,
    Follower,
    FollowerRow,
)
from firm.engine.working_days import WorkingDays, england_bank_holidays

Convention = Literal["clear", "elapsed"]
THICKEST_MM = 100
LONGEST_DAYS = 365
FIRST_YEAR, LAST_YEAR = 2000, 2100
BOARD: tuple[Coating, ...] = ("skim_on_board",)


class Calendar(Protocol):
    """A calendar that finds the next working day."""

    def next_on_or_after(self, day: date, /) -> date:
        """Return the day itself if it is worked, otherwise the next worked day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lag:
    """A wait agreed for this job, in place of or beside the trade's own."""

    name: str
    days: int
    is_firm: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Drying:
    """A plastered surface and who waits for it.

    `thickness_mm` is the whole thickness of undercoat and finish, where it decides.
    No follower named: all that the trade knows.
    """

    finish_on: date
    coating: Coating = "skim_on_board"
    thickness_mm: int = 0
    air: Air = "normal"
    convention: Convention = "clear"
    followers: tuple[Follower, ...] = ()
    lags: tuple[Lag, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """The first day one follower may start, by which rule, and how strictly."""

    follower: str
    code: str
    start_on: date
    lag_days: int
    is_firm: bool
    state: str
    rule: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DryAnswer:
    """When each follower may start; `wet_until_on` is the last day of drying."""

    drying_days: int
    wet_until_on: date
    starts: tuple[Start, ...]
    working: tuple[str, ...]


def drying_days(*, coating: Coating, thickness_mm: int, air: Air) -> int:
    """Return the clear days a coating dries before it is painted.

    >>> drying_days(coating="undercoat_and_finish", thickness_mm=13, air="normal")
    13
    """
    row, factor = _coating_row(coating), _air_factor(air)
    days = row.clear_days or _checked_thickness(thickness_mm)
    whole = (days * factor[0]).to_integral_value(rounding=ROUND_CEILING)
    return max(int(whole), factor[1])


def dry(question: Drying, *, calendar: Calendar | None = None) -> DryAnswer:
    """Say when each follower may start.

    Without a calendar the weekends and bank holidays of England are kept.

    >>> skim = Drying(finish_on=date(2026, 3, 5), followers=("mist_coat",))
    >>> dry(skim).starts[0].start_on
    datetime.date(2026, 3, 9)
    """
    if not FIRST_YEAR <= question.finish_on.year <= LAST_YEAR:
        raise Refused(
            f"The plaster cannot be finished in {question.finish_on.year}. Give a day "
            f"from {FIRST_YEAR} to {LAST_YEAR}.",
            "finish_on",
        )
    days = drying_days(
        coating=question.coating,
        thickness_mm=question.thickness_mm,
        air=question.air,
    )
    kept = calendar or _england(question.finish_on)
    starts = (
        *(
            _start(row, question, dried_days=days, calendar=kept)
            for row in _asked(question)
        ),
        *_lag_starts(question, kept),
    )
    return DryAnswer(
        drying_days=days,
        wet_until_on=question.finish_on + timedelta(days=days),
        starts=starts,
        working=(_drying_words(question, days), *(start.rule for start in starts)),
    )


def start_on(
    *, finish_on: date, lag_days: int, convention: Convention, calendar: Calendar
) -> date:
    """Return the first working day after a wait of calendar days."""
    extra = 1 if convention == "clear" else 0
    return calendar.next_on_or_after(finish_on + timedelta(days=lag_days + extra))


def _england(finish_on: date) -> WorkingDays:
    years = range(finish_on.year, finish_on.year + 3)
    return WorkingDays(england_bank_holidays(years))


def _coating_row(coating: Coating) -> DryingRow:
    return next(row for row in DRYING if row.coating == coating)


def _air_factor(air: Air) -> tuple[Decimal, int]:
    row = next(row for row in AIRS if row.air == air)
    return row.factor, row.least_days


def _checked_thickness(thickness_mm: int) -> int:
    if not 1 <= thickness_mm <= THICKEST_MM:
        raise Refused(
            f"Drying goes by thickness here, and {thickness_mm} mm is none. Give the "
            f"whole thickness in millimetres, 1 to {THICKEST_MM}, for example 13.",
            "thickness_mm",
        )
    return thickness_mm


def _asked(question: Drying) -> Iterable[FollowerRow]:
    if question.followers or question.lags:
        by_name = {row.follower: row for row in FOLLOWERS}
        return [by_name[name] for name in question.followers]
    return FOLLOWERS


def _start(
    row: FollowerRow, question: Drying, *, dried_days: int, calendar: Calendar
) -> Start:
    begins_on, lag = question.finish_on, _lag_days(row, question, dried_days)
    after = f"{question.finish_on:%a %-d %b %Y}"
    if row.waits == "after_mist_coat":
        begins_on = start_on(
            finish_on=question.finish_on,
            lag_days=dried_days,
            convention=question.convention,
            calendar=calendar,
        )
        after = f"the mist coat on {begins_on:%a %-d %b %Y}"
    # A coat of paint dries 24 hours: the day after is early enough either way.
    convention = "elapsed" if row.waits == "after_mist_coat" else question.convention
    when = start_on(
        finish_on=begins_on, lag_days=lag, convention=convention, calendar=calendar
    )
    return Start(
        follower=row.words,
        code=row.code,
        start_on=when,
        lag_days=lag,
        is_firm=row.is_firm,
        state=row.state,
        rule=_rule_words(row.words, lag, convention, after=after, when=when),
        source=row.source,
    )


def _lag_days(row: FollowerRow, question: Drying, dried_days: int) -> int:
    if row.waits == "drying":
        return dried_days
    return row.days if question.coating in BOARD else row.solid_days


def _lag_starts(question: Drying, calendar: Calendar) -> Iterable[Start]:
    for number, lag in enumerate(question.lags):
        if not 0 <= lag.days <= LONGEST_DAYS:
            raise Refused(
                f"{lag.name} waits {lag.days} days. Give 0 to {LONGEST_DAYS}.",
                f"lags[{number}].days",
            )
        when = start_on(
            finish_on=question.finish_on,
            lag_days=lag.days,
            convention=question.convention,
            calendar=calendar,
        )
        after = f"{question.finish_on:%a %-d %b %Y}"
        yield Start(
            follower=lag.name,
            code="",
            start_on=when,
            lag_days=lag.days,
            is_firm=lag.is_firm,
            state="",
            rule=_rule_words(
                lag.name, lag.days, question.convention, after=after, when=when
            ),
            source="As agreed for this job.",
        )


def _rule_words(
    name: str, lag_days: int, convention: Convention, *, after: str, when: date
) -> str:
    kind = "clear" if convention == "clear" else "elapsed"
    unit = "day" if lag_days == 1 else "days"
    return (
        f"{name[0].upper()}{name[1:]}: {lag_days} {kind} {unit} after {after}, "
        f"first working day {when:%a %-d %b %Y}."
    )


def _drying_words(question: Drying, days: int) -> str:
    row = _coating_row(question.coating)
    air = next(air for air in AIRS if air.air == question.air)
    start = row.clear_days or question.thickness_mm
    by = "days" if row.clear_days else "mm at one a day"
    words = f"Drying ({row.code}, usually {row.range_met} days): {start} {by}"
    if air.code:
        least = f", at least {air.least_days}" if air.least_days else ""
        words += f" × {air.factor} for {air.words} ({air.code}){least}"
    return f"{words} = {days} days. Pale and even wins over the calendar."
