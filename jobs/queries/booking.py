"""What it takes to put a job in the diary: its hours, the crews, who comes before."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import QuerySet, Sum
from django.http import Http404

from firm import may
from firm.engine.refusal import Refused
from firm.engine.trade.figures import Figures, figures_with
from firm.engine.trade.labour import LABOUR_FIGURES
from firm.models import Crew, Person, TimeOff
from firm.queries.firm import own_figures
from jobs.engine.slot_words import (
    LOOK_AHEAD_DAYS,
    Suggestions,
    TradeBefore,
    Wish,
    suggest,
)
from jobs.engine.slots import CrewDiary, Half, Labour, Off, Taken, half_days_needed
from jobs.models import BookedHalf, Booking, Job, OtherTrade
from jobs.queries.calendar import working_days_around

# A visit may run on past the last day it could start on.
DIARY_DAYS = LOOK_AHEAD_DAYS * 3


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewLength:
    """How long one crew takes for the job."""

    crew: Crew
    half_days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class When:
    """All that the page needs to answer: when?"""

    job: Job
    booking: Booking | None
    labour: Labour | None
    lengths: tuple[CrewLength, ...]
    trades: tuple[OtherTrade, ...]
    unknown: tuple[OtherTrade, ...]
    suggestions: Suggestions | None
    refusal: str
    as_if_on: date | None


def job_to_book(person: Person, job_id: int) -> Job:
    """Return a job that this person may put in the diary; any other is not found."""
    job = Job.objects.with_people().filter(pk=job_id).first()
    if job is None or not may.book_crews(person):
        raise Http404("There is no such job to book.")
    return job


def booking_to_change(person: Person, booking_id: int) -> Booking:
    """Return a standing booking that this person may move or call off."""
    rows = Booking.objects.standing().select_related("job", "crew")
    booking = rows.filter(pk=booking_id).first()
    if booking is None or not may.book_crews(person):
        raise Http404("There is no such booking.")
    return booking


def standing_booking(job: Job) -> Booking | None:
    return job.bookings.standing().select_related("crew").first()


def when_for(job: Job, *, today: date, as_if_on: date | None = None) -> When:
    """Work out the slots for a job; a move looks past the job's own half-days."""
    booking = standing_booking(job)
    labour = labour_of(job)
    before = tuple(trades_before(job))
    lengths: tuple[CrewLength, ...] = ()
    suggestions, refusal = None, ""
    if labour is not None:
        try:
            lengths = crew_lengths(labour, Crew.objects.working())
            wish = _wish(job, lengths, before, today, as_if_on)
            suggestions = _suggest(wish, lengths, booking)
        except Refused as refused:
            refusal = str(refused)
    return When(
        job=job,
        booking=booking,
        labour=labour,
        lengths=lengths,
        trades=before,
        unknown=tuple(trade for trade in before if trade.ready_on is None),
        suggestions=suggestions,
        refusal=refusal,
        as_if_on=as_if_on,
    )


def labour_of(job: Job) -> Labour | None:
    """Return the hours that the accepted quote handed down, or None before that."""
    sums = job.work_items.aggregate(
        plasterer=Sum("plasterer_hours"), labourer=Sum("labourer_hours")
    )
    if sums["plasterer"] is None:
        return None
    return _labour(sums["plasterer"], sums["labourer"], _labour_figures())


def _labour_figures() -> Figures:
    known = {row.code for row in LABOUR_FIGURES}
    own = {code: value for code, value in own_figures().items() if code in known}
    return figures_with(LABOUR_FIGURES, own)


def _labour(plasterer: Decimal, labourer: Decimal, figures: Figures) -> Labour:
    return Labour(
        plasterer_hours=plasterer,
        labourer_hours=labourer,
        day_hours=figures["DAY.hours"],
        clear_plasterer_hours=figures["CLR.plasterer"],
        clear_labourer_hours=figures["CLR.labourer"],
    )


def crew_lengths(labour: Labour, crews: Iterable[Crew]) -> tuple[CrewLength, ...]:
    return tuple(
        CrewLength(crew=crew, half_days=half_days_for(labour, crew)) for crew in crews
    )


def half_days_for(labour: Labour, crew: Crew) -> int:
    return half_days_needed(
        labour, plasterers=crew.plasterers, labourers=crew.labourers
    )


def trades_before(job: Job) -> QuerySet[OtherTrade]:
    return job.other_trades.filter(side=OtherTrade.Side.BEFORE)


def as_trades_before(
    trades: Iterable[OtherTrade], as_if_on: date | None
) -> tuple[TradeBefore, ...]:
    """Return the trades for the engine; an assumed day stands only where none is."""
    return tuple(
        TradeBefore(
            trade=trade.trade,
            out_on=trade.ready_on or as_if_on,
            sure=trade.sure if trade.ready_on else "planned as if",
        )
        for trade in trades
    )


def _wish(
    job: Job,
    lengths: Sequence[CrewLength],
    trades: Iterable[OtherTrade],
    today: date,
    as_if_on: date | None,
) -> Wish:
    return Wish(
        half_days={length.crew.pk: length.half_days for length in lengths},
        district=job.site.district,
        wanted_by_on=job.wanted_by_on,
        from_on=today + timedelta(days=1),
        trades=as_trades_before(trades, as_if_on),
    )


def _suggest(
    wish: Wish, lengths: Sequence[CrewLength], booking: Booking | None
) -> Suggestions:
    crews = [length.crew for length in lengths]
    diaries = crew_diaries(crews, from_on=wish.from_on, apart_from=booking)
    return suggest(wish, diaries, working_days_around(wish.from_on))


def crew_diaries(
    crews: Sequence[Crew], *, from_on: date, apart_from: Booking | None = None
) -> list[CrewDiary]:
    """Return each crew's diary from a day on, without one booking when it moves."""
    since = from_on - timedelta(days=7)
    halves = BookedHalf.objects.filter(crew__in=crews, on__gte=since)
    if apart_from is not None:
        halves = halves.exclude(booking=apart_from)
    taken = list(halves.select_related("booking__job__site"))
    until_on = from_on + timedelta(days=DIARY_DAYS)
    off = list(TimeOff.objects.filter(crew__in=crews).touching(from_on, until_on))
    return [_crew_diary(crew, taken, off) for crew in crews]


def _crew_diary(
    crew: Crew, taken: Iterable[BookedHalf], off: Iterable[TimeOff]
) -> CrewDiary:
    return CrewDiary(
        crew_id=crew.pk,
        name=crew.name,
        plasterers=crew.plasterers,
        labourers=crew.labourers,
        taken={
            Half(row.on, row.half): Taken(
                job=f"job {row.booking.job.number}",
                district=row.booking.job.site.district,
            )
            for row in taken
            if row.crew_id == crew.pk
        },
        off=tuple(
            Off(first_on=row.first_on, last_on=row.last_on, reason=row.reason)
            for row in off
            if row.crew_id == crew.pk
        ),
    )


def won_not_booked() -> QuerySet[Job]:
    """Return the jobs whose customers said yes and wait for days, oldest first."""
    return Job.objects.at_stage(Job.Stage.WON).with_people().order_by("opened_at")
