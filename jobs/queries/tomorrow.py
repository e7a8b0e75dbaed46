"""Where a crew is today, tomorrow and this week, and the sheet of one job.

Only what a crew needs leaves here: no price, no email, no office note. The days on
which a place and a customer are shown are the firm's rule on what a phone may hold:
crew from one day back to two ahead, a crew lead from a week back to two ahead.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import groupby
from urllib.parse import quote

from django.db.models import Q, QuerySet
from django.http import Http404
from django.utils.timezone import localdate

from firm import may
from firm.models import Crew, Person
from jobs.engine.slot_words import run_words
from jobs.engine.slots import STARTS_AT, Half
from jobs.models import (
    BookedHalf,
    Booking,
    DayNote,
    Job,
    JobCaution,
    MaterialOrder,
    OtherTrade,
    WorkItem,
)
from jobs.queries.calendar import working_days_around

CREW_DAYS = (1, 2)
LEAD_DAYS = (7, 14)
WEEK_AHEAD_DAYS = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A crew's visit on one day; a place out of the window is a district only."""

    job_id: int
    number: int
    what: str
    place: str
    part: str
    starts_at: time
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewDay:
    on: date
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """One thing the job needs, and where it is."""

    what: str
    where: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    name: str
    items: tuple[WorkItem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One job as the crew on it may see it."""

    job_id: int
    number: int
    what: str
    stage: str
    address: str
    postcode: str
    geo: str
    way_in: str
    parking: str
    customer: str
    phone: str
    halves: tuple[Half, ...]
    when: str
    starts_at: time | None
    crew: str
    rooms: tuple[Room, ...]
    stuff: tuple[Stuff, ...]
    cautions: tuple[JobCaution, ...]
    trades: tuple[OtherTrade, ...]
    notes: tuple[DayNote, ...]


def window_for(person: Person, today: date) -> tuple[date, date]:
    """Return the first and last day whose places this person may see.

    The next working day is always inside it: on a Friday that is Monday, which the
    crew must find, and whose sheet goes out by letter that evening anyway.
    """
    is_lead = person.role == Person.Role.CREW_LEAD
    back, ahead = LEAD_DAYS if is_lead else CREW_DAYS
    next_on = next_working_day(today)
    return today - timedelta(days=back), max(today + timedelta(days=ahead), next_on)


def next_working_day(today: date) -> date:
    return working_days_around(today).add(today, 1)


def sheet_job(person: Person, job_id: int, *, now: datetime) -> Job | None:
    """Return a job whose sheet this person may see; any other is not found."""
    if not may.see_tomorrow(person):
        return None
    rows = Job.objects.with_people().filter(pk=job_id)
    if may.book_crews(person):
        return rows.first()
    first_on, last_on = window_for(person, localdate(now))
    if person.crew_id is None:
        return None
    mine = BookedHalf.objects.filter(
        crew_id=person.crew_id,
        on__range=(first_on, last_on),
        booking__state=Booking.State.BOOKED,
    )
    return rows.filter(pk__in=mine.values("booking__job_id")).first()


def crews_to_see(person: Person) -> QuerySet[Crew]:
    """Return the crews whose days this person may look at."""
    if may.book_crews(person):
        return Crew.objects.working()
    if may.see_tomorrow(person) and person.crew_id:
        return Crew.objects.filter(pk=person.crew_id)
    return Crew.objects.none()


def crew_asked_for(crews: Sequence[Crew], asked: str) -> Crew | None:
    """Return the crew of that number among those, or the first of them."""
    asked_for = [crew for crew in crews if str(crew.pk) == asked]
    return next(iter([*asked_for, *crews]), None)


def week_of(crew: Crew, person: Person, today: date) -> list[CrewDay]:
    """Return the days of a crew from today on; the next working day is always there."""
    last_on = max(today + timedelta(days=WEEK_AHEAD_DAYS), next_working_day(today))
    rows = _halves(crew, today, last_on)
    by_day = {on: tuple(day) for on, day in groupby(rows, key=lambda row: row.on)}
    for on in (today, next_working_day(today)):
        by_day.setdefault(on, ())
    window = _open_days(person, today)
    return [
        CrewDay(on=on, entries=tuple(_entries(by_day[on], window)))
        for on in sorted(by_day)
    ]


def crews_on(day: date) -> list[tuple[Crew, tuple[Entry, ...]]]:
    """Return every working crew with where it is that day, for the office."""
    rows = list(_all_halves().filter(on=day))
    every_day = (day, day)
    return [
        (crew, tuple(_entries([r for r in rows if r.crew_id == crew.pk], every_day)))
        for crew in Crew.objects.working()
    ]


def _open_days(person: Person, today: date) -> tuple[date, date]:
    if may.book_crews(person):
        return date.min, date.max
    return window_for(person, today)


def _all_halves() -> QuerySet[BookedHalf]:
    standing = Q(booking__state=Booking.State.BOOKED)
    rows = BookedHalf.objects.filter(standing).select_related("booking__job__site")
    return rows.order_by("on", "half")


def _halves(crew: Crew, first_on: date, last_on: date) -> QuerySet[BookedHalf]:
    return _all_halves().filter(crew=crew, on__range=(first_on, last_on))


def _entries(rows: Iterable[BookedHalf], window: tuple[date, date]) -> Iterable[Entry]:
    for booking, halves in groupby(rows, key=lambda row: row.booking):
        parts = list(halves)
        job = booking.job
        is_open = window[0] <= parts[0].on <= window[1]
        yield Entry(
            job_id=job.pk,
            number=job.number,
            what=job.what,
            place=str(job.site) if is_open else job.site.district,
            part="all day" if len(parts) > 1 else parts[0].get_half_display().lower(),
            starts_at=STARTS_AT[parts[0].half],
            is_open=is_open,
        )


def sheet_for(job: Job, *, today: date) -> Sheet:
    """Return the sheet of a job that `sheet_job` found for somebody."""
    booking = job.bookings.standing().select_related("crew").first()
    rows = booking.halves.all() if booking else []
    halves = tuple(Half(row.on, row.half) for row in rows)
    site = job.site
    return Sheet(
        job_id=job.pk,
        number=job.number,
        what=job.what,
        stage=job.stage,
        address=site.address,
        postcode=site.postcode,
        geo=geo_link(site.address, site.postcode),
        way_in=site.way_in,
        parking=site.parking,
        customer=job.customer.name,
        phone=job.customer.phone,
        halves=halves,
        when=run_words(halves) if halves else "",
        starts_at=_next_start(halves, today),
        crew=booking.crew.name if booking else "",
        rooms=_rooms(job.work_items.all()),
        stuff=tuple(_stuff(job)),
        cautions=tuple(job.cautions.all()),
        trades=tuple(job.other_trades.all()),
        notes=tuple(job.day_notes.select_related("by")),
    )


def geo_link(address: str, postcode: str) -> str:
    """Return a link that opens a phone's own map at an address."""
    words = ", ".join([*address.splitlines(), postcode])
    return f"geo:0,0?q={quote(words)}"


def _next_start(halves: Sequence[Half], today: date) -> time | None:
    """Return when the crew starts on the next day of the visit, or on its last."""
    ahead = [half for half in halves if half.on >= today] or list(halves)[-1:]
    return STARTS_AT[ahead[0].half] if ahead else None


def _rooms(items: Iterable[WorkItem]) -> tuple[Room, ...]:
    rooms = groupby(items, key=lambda item: item.room)
    return tuple(Room(name=name, items=tuple(inside)) for name, inside in rooms)


def _stuff(job: Job) -> Iterable[Stuff]:
    needs = job.needs.select_related("order_line__order__merchant")
    for need in needs:
        line = getattr(need, "order_line", None)
        what = f"{need.packs} × {need.pack} {need.item}"
        if line is None or line.order.state == MaterialOrder.State.DRAFT:
            yield Stuff(what=what, where="Not ordered: bring it", kind="bring")
        elif line.order.state == MaterialOrder.State.ARRIVED:
            yield _arrived(what, line.arrived_packs or 0, line.packs, line.trouble)
        else:
            where = f"Not dropped yet; due {line.order.wanted_on:%a %-d %b}"
            yield Stuff(what=what, where=where, kind="due")


def _arrived(what: str, came: int, ordered: int, trouble: str) -> Stuff:
    if came < ordered or trouble:
        short = f"only {came} of {ordered} came" if came < ordered else ""
        words = ", ".join(part for part in (short, trouble) if part)
        return Stuff(what=what, where=f"On site, but: {words}", kind="short")
    return Stuff(what=what, where="On site", kind="here")


def finished_since(first_on: date) -> QuerySet[Job]:
    """Return the jobs finished on or after a day, the latest first."""
    done = Job.objects.filter(stage=Job.Stage.DONE, finished_on__gte=first_on)
    return done.with_people().order_by("-finished_on", "-number")


def not_finished_past(today: date) -> QuerySet[Job]:
    """Return the jobs whose last day has gone and that nobody pressed finished."""
    standing = Booking.objects.standing().filter(last_on__lt=today)
    late = Job.objects.at_stage(Job.Stage.BOOKED).filter(bookings__in=standing)
    return late.with_people().distinct()


def job_to_finish(person: Person, job_id: int, *, now: datetime) -> Job:
    """Return a job that this person may finish; any other is not found."""
    job = sheet_job(person, job_id, now=now)
    if job is None or not may.finish_jobs(person):
        raise Http404("There is no such job to finish.")
    return job
