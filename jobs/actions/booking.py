"""Put a crew on a job for a run of half-days, move it, call it off."""

from collections.abc import Sequence
from datetime import date, datetime

from django.db import IntegrityError, transaction
from django.utils.timezone import get_default_timezone, localdate

from firm import may
from firm.actions import history, tray
from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays
from firm.models import Crew, Notice, Person, TimeOff
from jobs.actions import job as stages
from jobs.documents import booking_letters as letters
from jobs.engine.slot_words import (
    day_words,
    half_words,
    known_day,
    morning_after,
    run_words,
)
from jobs.engine.slots import STARTS_AT, Half, may_start_at, run_of
from jobs.models import BookedHalf, Booking, Job
from jobs.queries.booking import (
    as_trades_before,
    half_days_for,
    labour_of,
    trades_before,
)
from jobs.queries.calendar import working_days_around

ONLY_THE_OFFICE = "Only the office can change the diary."
MEANWHILE = "Somebody has changed this booking meanwhile. Look at the diary again."
UNSENT = (Notice.State.WAITING, Notice.State.HELD, Notice.State.STOPPED)


@transaction.atomic
def book_in(
    job_id: int,
    *,
    crew_id: int,
    start: Half,
    as_if_on: date | None = None,
    by: Person,
    now: datetime,
) -> Booking:
    """Put a crew on a won job and tell the customer."""
    _check(by)
    job = _job(job_id)
    if job.bookings.standing().exists():
        raise Refused(f"Job {job.number} is in the diary already. Move it instead.")
    crew = _crew(crew_id)
    run = _run(job, crew, start, as_if_on, now)
    stages.mark_booked(job_id, by=by, now=now)
    booking = Booking.objects.create(
        job=job, crew=crew, first_on=run[0].on, last_on=run[-1].on
    )
    _take(booking, run)
    words = f"{crew.name} booked for {run_words(run)}."
    _tell(booking, "crew-booked", words + _assumed(job, as_if_on), now, by)
    _tell_customer(booking, "booked", now)
    return booking


@transaction.atomic
def move_booking(
    booking_id: int,
    *,
    version: int,
    crew_id: int,
    start: Half,
    as_if_on: date | None = None,
    by: Person,
    now: datetime,
) -> Booking:
    """Move a booking that still stands as it was when the person looked."""
    _check(by)
    booking = _standing(booking_id)
    old = f"{booking.crew.name}, {run_words(halves_of(booking))}"
    crew = _crew(crew_id)
    run = _run(booking.job, crew, start, as_if_on, now)
    _claim(booking_id, version, crew=crew, first_on=run[0].on, last_on=run[-1].on)
    booking.halves.all().delete()
    booking.refresh_from_db()
    _take(booking, run)
    was_told = _was_told(booking)
    _stop_letters(booking, "The booking was moved.", now)
    words = f"Moved from {old} to {crew.name}, {run_words(run)}."
    _tell(booking, "booking-moved", words + _assumed(booking.job, as_if_on), now, by)
    _tell_customer(booking, "moved" if was_told else "booked", now)
    return booking


@transaction.atomic
def call_off_booking(
    booking_id: int, *, version: int, by: Person, now: datetime
) -> None:
    """Give the half-days back; the job waits for days again."""
    _check(by)
    booking = _standing(booking_id)
    words = f"Called off: {booking.crew.name}, {run_words(halves_of(booking))}."
    _claim(booking_id, version, state=Booking.State.OFF)
    booking.halves.all().delete()
    stages.mark_not_booked(booking.job_id, by=by, now=now)
    was_told = _was_told(booking)
    _stop_letters(booking, "The booking was called off.", now)
    _tell(booking, "booking-off", words, now, by)
    if was_told:
        _tell_customer(booking, "off", now)


def starts_at(half: Half) -> datetime:
    """Return the moment when a crew is on site for a half-day."""
    clock = STARTS_AT[half.half]
    return datetime.combine(half.on, clock, tzinfo=get_default_timezone())


def halves_of(booking: Booking) -> list[Half]:
    return [Half(row.on, row.half) for row in booking.halves.all()]


@tray.still_wanted("booked")
@tray.still_wanted("moved")
def booking_stands(notice: Notice, _now: datetime) -> str | None:
    """Say why a letter about a booking has no reason any more."""
    booking = Booking.objects.filter(pk=notice.about_id).first()
    if booking is None or booking.state == Booking.State.OFF:
        return "The booking was called off."
    if not notice.key.endswith(f"/v{booking.version}"):
        return "The booking was moved."
    return None


def _check(by: Person) -> None:
    if not may.book_crews(by):
        raise Refused(ONLY_THE_OFFICE)


def _job(job_id: int) -> Job:
    job = Job.objects.with_people().filter(pk=job_id).first()
    if job is None:
        raise Refused("There is no such job.")
    return job


def _crew(crew_id: int) -> Crew:
    crew = Crew.objects.working().filter(pk=crew_id).first()
    if crew is None:
        raise Refused("That crew does not work here any more.", field="crew")
    return crew


def _standing(booking_id: int) -> Booking:
    rows = Booking.objects.standing().select_related("job__customer", "crew")
    booking = rows.filter(pk=booking_id).first()
    if booking is None:
        raise Refused("This booking has been called off already.")
    return booking


def _run(
    job: Job, crew: Crew, start: Half, as_if_on: date | None, now: datetime
) -> tuple[Half, ...]:
    """Return the half-days the crew needs from a start that the facts allow."""
    labour = labour_of(job)
    if labour is None:
        raise Refused(
            f"Job {job.number} has no hours yet. They come with the accepted quote."
        )
    days = working_days_around(start.on)
    count = half_days_for(labour, crew)
    _check_start(start, count, localdate(now), days)
    _check_trades(job, start, as_if_on, days)
    run = run_of(start, count, days)
    _check_time_off(crew, run)
    return run


def _check_start(start: Half, count: int, today: date, days: WorkingDays) -> None:
    if start.on < today:
        raise Refused(f"{day_words(start.on)} has gone. Pick a later day.", "on")
    if not days.is_working(start.on):
        raise Refused(
            f"{day_words(start.on)} is a weekend or a bank holiday."
            f" The next working day is {day_words(days.next_on_or_after(start.on))}.",
            "on",
        )
    if not may_start_at(start, count):
        raise Refused(
            f"This takes {count} half-days, and a longer visit starts in the morning.",
            "half",
        )


def _check_trades(
    job: Job, start: Half, as_if_on: date | None, days: WorkingDays
) -> None:
    for trade in as_trades_before(trades_before(job), as_if_on):
        first = morning_after(trade, days)
        if start < first:
            raise Refused(
                f"The {trade.trade.lower()} is out on {day_words(known_day(trade))}"
                f" ({trade.sure}), so the first start is {half_words(first)}.",
                "on",
            )


def _check_time_off(crew: Crew, run: Sequence[Half]) -> None:
    touching = TimeOff.objects.filter(crew=crew).touching(run[0].on, run[-1].on)
    off = touching.first()
    if off is not None:
        reason = f" ({off.reason})" if off.reason else ""
        raise Refused(
            f"{crew.name} is off from {day_words(off.first_on)} to"
            f" {day_words(off.last_on)}{reason}. Pick another day or another crew.",
            "on",
        )


def _claim(booking_id: int, version: int, **columns: object) -> None:
    standing = Booking.objects.standing().filter(pk=booking_id, version=version)
    if not standing.update(version=version + 1, **columns):
        raise Refused(MEANWHILE)


def _take(booking: Booking, run: Sequence[Half]) -> None:
    """Insert every half-day at once; the database lets each be given once."""
    rows = [
        BookedHalf(booking=booking, crew=booking.crew, on=half.on, half=half.half)
        for half in run
    ]
    try:
        with transaction.atomic():
            BookedHalf.objects.bulk_create(rows)
    except IntegrityError:
        raise Refused(_clash_words(booking.crew, run), "on") from None


def _clash_words(crew: Crew, run: Sequence[Half]) -> str:
    wanted = set(run)
    rows = BookedHalf.objects.filter(
        crew=crew, on__range=(run[0].on, run[-1].on)
    ).select_related("booking__job")
    clash = next((row for row in rows if Half(row.on, row.half) in wanted), None)
    where = (
        f"on job {clash.booking.job.number} {half_words(Half(clash.on, clash.half))}"
        if clash
        else "on another job then"
    )
    return f"{crew.name} is already {where}. Pick another day or another crew."


def _assumed(job: Job, as_if_on: date | None) -> str:
    if as_if_on is None:
        return ""
    unknown = [
        trade.trade.lower() for trade in trades_before(job).filter(ready_on=None)
    ]
    if not unknown:
        return ""
    names = " and ".join(unknown)
    return (
        f" Planned as if the {names} is out on {day_words(as_if_on)}; nobody said so."
    )


def _was_told(booking: Booking) -> bool:
    """Say whether a letter about the booking has gone or is going."""
    letters_about = Notice.objects.about("booking", booking.pk)
    to_customer = letters_about.filter(kind__in=["booked", "moved"])
    return to_customer.exclude(state__in=UNSENT).exists()


def _stop_letters(booking: Booking, because: str, now: datetime) -> None:
    tray.stop_notices(about=("booking", booking.pk), because=because, now=now)


def _tell(booking: Booking, event: str, words: str, now: datetime, by: Person) -> None:
    about = ("job", booking.job_id)
    history.write(about=about, event=event, words=words, now=now, by=by)


def _tell_customer(booking: Booking, kind: str, now: datetime) -> None:
    customer = booking.job.customer
    if not customer.email:
        return
    halves = halves_of(booking)
    subject, text = letters.write(kind, booking, halves)
    tray.leave_notice(
        key=f"{kind}/booking/{booking.pk}/v{booking.version}",
        kind="booking-off" if kind == "off" else kind,
        to_name=customer.name,
        to_address=customer.email,
        subject=subject,
        text=text,
        about=("booking", booking.pk),
        job_id=booking.job_id,
        due_at=now,
        expires_at=starts_at(halves[0]) if halves else None,
        now=now,
    )
