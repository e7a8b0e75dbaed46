"""The diary of some weeks: the wall chart, each crew's load, and the list by day."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from firm.models import Crew, TimeOff
from firm.queries.firm import the_firm
from jobs.engine.slot_words import run_words
from jobs.engine.slots import AFTERNOON, MORNING, Half
from jobs.engine.wall_chart import draw_chart, month_starts
from jobs.engine.wall_chart_values import Chart, Column, CrewLine, Off, Trade, Visit
from jobs.models import Booking, Job, OtherTrade
from jobs.queries.calendar import working_days_around
from jobs.queries.followers import Follower, followers_of

FEWEST_WEEKS, USUAL_WEEKS, MOST_WEEKS = 2, 3, 6
ONE_DAY = timedelta(days=1)
# The longest wait for a follower: a visit this old may still be drying.
LOOK_BACK_DAYS = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """How much of a crew's time is given away."""

    crew: Crew
    booked: int
    workable: int

    @property
    def most(self) -> int:
        """Return the end of the scale; a crew that is off all the time has one too."""
        return max(self.workable, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing on one day, in words."""

    kind: str
    words: str
    job_id: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    on: date
    is_rest: bool
    is_today: bool
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A booking with its half-days and its followers, fetched once."""

    booking: Booking
    job: Job
    halves: tuple[Half, ...]
    followers: tuple[Follower, ...]
    trades: tuple[OtherTrade, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Diary:
    first_on: date
    last_on: date
    weeks: int
    chart: Chart
    months: tuple[Column, ...]
    loads: tuple[Load, ...]
    days: tuple[Day, ...]
    crews: tuple[Crew, ...]

    @property
    def previous_on(self) -> date:
        return self.first_on - timedelta(weeks=self.weeks)

    @property
    def next_on(self) -> date:
        return self.first_on + timedelta(weeks=self.weeks)


def diary_of(around: date, weeks: int, *, today: date) -> Diary:
    """Return so many weeks from the Monday of a day's week."""
    first_on = around - timedelta(days=around.weekday())
    last_on = first_on + timedelta(weeks=weeks, days=-1)
    crews = tuple(Crew.objects.working())
    stretches = stretches_touching(first_on, last_on)
    offs = list(
        TimeOff.objects.filter(crew__in=crews)
        .touching(first_on, last_on)
        .select_related("crew")
    )
    days = working_days_around(first_on)
    span = [first_on + n * ONE_DAY for n in range(weeks * 7)]
    worked = [day for day in span if days.is_working(day)]
    loads = tuple(_load(crew, stretches, offs, worked) for crew in crews)
    chart = draw_chart(
        first_on=first_on,
        weeks=weeks,
        today=today,
        crews=[_crew_line(load) for load in loads],
        visits=[_visit(stretch) for stretch in stretches],
        trades=[trade for stretch in stretches for trade in _trades(stretch)],
        offs=[_off(off) for off in offs],
        days=days,
    )
    return Diary(
        first_on=first_on,
        last_on=last_on,
        weeks=weeks,
        chart=chart,
        months=tuple(month_starts(chart.columns)),
        loads=loads,
        days=tuple(_days(chart, stretches, offs)),
        crews=crews,
    )


def stretches_touching(first_on: date, last_on: date) -> list[Stretch]:
    """Return the bookings of some days and those that still dry on them."""
    since = first_on - timedelta(days=LOOK_BACK_DAYS)
    rows = (
        Booking.objects.standing()
        .touching(since, last_on)
        .select_related("crew", "job__site", "job__customer")
        .prefetch_related("halves", "job__work_items", "job__other_trades")
    )
    counts_clear_days = the_firm().drying_counts_clear_days
    return [_stretch(booking, counts_clear_days=counts_clear_days) for booking in rows]


def _stretch(booking: Booking, *, counts_clear_days: bool) -> Stretch:
    job = booking.job
    return Stretch(
        booking=booking,
        job=job,
        halves=tuple(Half(row.on, row.half) for row in booking.halves.all()),
        followers=followers_of(
            job, finish_on=booking.last_on, counts_clear_days=counts_clear_days
        ),
        trades=tuple(job.other_trades.all()),
    )


def _visit(stretch: Stretch) -> Visit:
    job, first = stretch.job, stretch.halves[0]
    mist = stretch.followers[0] if stretch.followers else None
    return Visit(
        job_id=job.pk,
        crew_id=stretch.booking.crew_id,
        title=job.site.address.splitlines()[0],
        number=str(job.number),
        what=job.what,
        label=(
            f"{stretch.booking.crew}, job {job.number}: {job.what} at {job.site},"
            f" {run_words(stretch.halves)}"
        ),
        first=first,
        last=stretch.halves[-1],
        dry_on=mist.start_on if mist else None,
        follower=mist.name.lower() if mist else "",
        is_done=job.stage == Job.Stage.DONE,
    )


def _trades(stretch: Stretch) -> Iterable[Trade]:
    for trade in stretch.trades:
        if trade.side == OtherTrade.Side.BEFORE:
            yield Trade(
                job_id=stretch.job.pk,
                crew_id=stretch.booking.crew_id,
                name=trade.trade,
                on=trade.ready_on,
                sure=trade.sure,
                visit_on=stretch.halves[0].on,
            )


def _off(off: TimeOff) -> Off:
    words = f"Off: {off.reason}" if off.reason else "Off"
    return Off(
        crew_id=off.crew_id, first_on=off.first_on, last_on=off.last_on, words=words
    )


def _load(
    crew: Crew,
    stretches: Sequence[Stretch],
    offs: Sequence[TimeOff],
    worked: Sequence[date],
) -> Load:
    mine = [off for off in offs if off.crew_id == crew.pk]
    workable = [
        day
        for day in worked
        if not any(off.first_on <= day <= off.last_on for off in mine)
    ]
    booked = [
        half
        for stretch in stretches
        if stretch.booking.crew_id == crew.pk
        for half in stretch.halves
        if half.on in worked
    ]
    return Load(crew=crew, booked=len(booked), workable=2 * len(workable))


def _crew_line(load: Load) -> CrewLine:
    return CrewLine(
        crew_id=load.crew.pk,
        name=load.crew.name,
        load_words=f"{load.booked} of {load.workable} taken",
    )


def _days(
    chart: Chart, stretches: Sequence[Stretch], offs: Sequence[TimeOff]
) -> Iterable[Day]:
    for column in chart.columns:
        lines = [
            *_visit_lines(column.on, stretches),
            *_trade_lines(column.on, stretches),
            *_follower_lines(column.on, stretches),
            *([] if column.is_rest else _off_lines(column.on, offs)),
        ]
        if column.is_holiday:
            lines.insert(0, Line(kind="rest", words="Bank holiday"))
        yield Day(
            on=column.on,
            is_rest=column.is_rest,
            is_today=column.is_today,
            lines=tuple(lines),
        )


def _visit_lines(day: date, stretches: Sequence[Stretch]) -> Iterable[Line]:
    for stretch in stretches:
        parts = [half.half for half in stretch.halves if half.on == day]
        if parts:
            job = stretch.job
            words = (
                f"{stretch.booking.crew}, {_part_words(parts)}: job {job.number},"
                f" {job.what} at {job.site}"
            )
            yield Line(kind="visit", words=words, job_id=job.pk)


def _part_words(parts: Sequence[str]) -> str:
    if set(parts) == {MORNING, AFTERNOON}:
        return "all day"
    return "morning" if parts[0] == MORNING else "afternoon"


def _trade_lines(day: date, stretches: Sequence[Stretch]) -> Iterable[Line]:
    for stretch in stretches:
        job, first_on = stretch.job, stretch.halves[0].on
        for trade in _trades(stretch):
            if trade.on == day:
                words = f"{trade.name} out ({trade.sure}), before job {job.number}"
                yield Line(kind="trade", words=words, job_id=job.pk)
            if trade.on is None and first_on == day:
                words = f"{trade.name} before job {job.number}: day not known"
                yield Line(kind="late", words=words, job_id=job.pk)


def _follower_lines(day: date, stretches: Sequence[Stretch]) -> Iterable[Line]:
    for stretch in stretches:
        for follower in stretch.followers:
            if follower.start_on == day:
                words = f"{follower.name} may start at job {stretch.job.number}"
                yield Line(kind="dry", words=words, job_id=stretch.job.pk)
            if follower.is_too_soon and follower.wanted_on == day:
                words = (
                    f"{follower.name} wants to start at job {stretch.job.number}, too"
                    f" soon: not before {follower.start_on:%a %-d %b}"
                )
                yield Line(kind="late", words=words, job_id=stretch.job.pk)


def _off_lines(day: date, offs: Sequence[TimeOff]) -> Iterable[Line]:
    for off in offs:
        if off.first_on <= day <= off.last_on:
            reason = f" ({off.reason})" if off.reason else ""
            yield Line(kind="off", words=f"{off.crew} off{reason}")
