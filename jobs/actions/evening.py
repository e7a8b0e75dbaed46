"""The evening before: the customer hears that we come, the crew where it goes."""

from datetime import date, datetime, time, timedelta

from django.db import transaction
from django.utils.timezone import get_default_timezone, localdate, localtime

from firm.actions import tray
from firm.models import Notice, Person
from jobs.actions.booking import halves_of, starts_at
from jobs.documents import booking_letters, sheet
from jobs.engine.slots import STARTS_AT
from jobs.models import Booking, Job
from jobs.queries.calendar import working_days_around
from jobs.queries.tomorrow import sheet_for

DUE_AT = time(17, 0)
ONE_DAY = timedelta(days=1)
TO_CUSTOMER, TO_CREW = "evening-customer", "evening-crew"


@transaction.atomic
def evening_round(now: datetime) -> int:
    """Leave the letters for the next working day; a second round changes nothing.

    Before the crews have started the round looks at today as well, so that a night
    on which nothing ran is caught up while it still helps.
    """
    today = localdate(now)
    days = working_days_around(today)
    ahead = [days.add(today, 1)]
    if localtime(now).time() < STARTS_AT["am"] and days.is_working(today):
        ahead.insert(0, today)
    return sum(_leave_for(day, now) for day in ahead)


def due_at(day: date) -> datetime:
    """Return five o'clock of the working day before."""
    before = working_days_around(day).add(day, -1)
    return datetime.combine(before, DUE_AT, tzinfo=get_default_timezone())


def _leave_for(day: date, now: datetime) -> int:
    bookings = Booking.objects.standing().filter(
        halves__on=day, job__stage=Job.Stage.BOOKED
    )
    rows = bookings.select_related("job__customer", "job__site", "crew").distinct()
    return sum(_leave(booking, day, now) for booking in rows)


def _leave(booking: Booking, day: date, now: datetime) -> int:
    left = 0
    if booking.first_on == day and booking.job.customer.email:
        _tell_customer(booking, day, now)
        left += 1
    for person in booking.crew.people.filter(is_active=True):
        _tell_crew(booking, person, day, now)
        left += 1
    return left


def _tell_customer(booking: Booking, day: date, now: datetime) -> None:
    halves = halves_of(booking)
    subject, text = booking_letters.write("tomorrow", booking, halves)
    customer = booking.job.customer
    tray.leave_notice(
        key=f"{TO_CUSTOMER}/{booking.pk}/{day}/v{booking.version}",
        kind=TO_CUSTOMER,
        to_name=customer.name,
        to_address=customer.email,
        subject=subject,
        text=text,
        about=("booking", booking.pk),
        job_id=booking.job_id,
        due_at=due_at(day),
        expires_at=starts_at(halves[0]),
        now=now,
    )


def _tell_crew(booking: Booking, person: Person, day: date, now: datetime) -> None:
    facts = sheet_for(booking.job, today=day)
    start = min(half for half in facts.halves if half.on == day)
    tray.leave_notice(
        key=f"{TO_CREW}/{person.pk}/{booking.pk}/{day}/v{booking.version}",
        kind=TO_CREW,
        to_name=person.name,
        to_address=person.email,
        subject=sheet.subject_of(facts, day),
        text=sheet.words_of(facts, day, start),
        about=("booking", booking.pk),
        job_id=booking.job_id,
        due_at=due_at(day),
        expires_at=starts_at(start),
        now=now,
    )


@tray.still_wanted(TO_CUSTOMER)
@tray.still_wanted(TO_CREW)
def visit_stands(notice: Notice, _now: datetime) -> str | None:
    """Say why nobody needs this letter any more, from the facts of this moment."""
    booking = Booking.objects.select_related("job").filter(pk=notice.about_id).first()
    if booking is not None and booking.job.stage == Job.Stage.DONE:
        return "The job is finished."
    if booking is None or booking.state == Booking.State.OFF:
        return "The booking was called off."
    if not notice.key.endswith(f"/v{booking.version}"):
        return "The booking was moved."
    if notice.kind == TO_CREW and not _is_in_crew(notice, booking):
        return f"{notice.to_name} is not in that crew any more."
    return None


def _is_in_crew(notice: Notice, booking: Booking) -> bool:
    person_id = int(notice.key.split("/")[1])
    return booking.crew.people.filter(pk=person_id, is_active=True).exists()
