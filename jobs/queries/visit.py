"""Visits: the standing ones of a person, a job or a day, and the times on offer."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.http import Http404
from django.utils.timezone import localdate, localtime

from firm import may
from firm.models import Person
from jobs.engine import contact
from jobs.engine.visit_times import StandingVisit, VisitTime, visit_times
from jobs.models import VISIT_TIMES, Job, Visit
from jobs.models.visit import VisitQuerySet
from jobs.queries.calendar import working_days_around


def visitors() -> list[Person]:
    """Return those who go and look at jobs, the owner first."""
    staff = Person.objects.staff().filter(role__in=may.DESK)
    return sorted(staff, key=lambda person: person.role != Person.Role.OWNER)


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Who could go and look, who is asked about, and when they are free."""

    visitors: list[Person]
    person: Person | None
    times: list[VisitTime]


def offer_for(
    person_id: str, postcode: str, now: datetime, *, not_job: Job | None = None
) -> Offer:
    """Return what to offer for the person and the postcode typed so far."""
    people = visitors()
    asked = [person for person in people if str(person.pk) == person_id]
    person = next(iter(asked or people), None)
    times: list[VisitTime] = []
    if person is not None:
        district = contact.district(postcode)
        times = times_on_offer(person, district, now, not_job=not_job)
    return Offer(visitors=people, person=person, times=times)


def standing_visit(job: Job) -> Visit | None:
    visits = Visit.objects.standing().filter(job=job)
    return visits.select_related("person").first()


def visit_for(person: Person, visit_id: int) -> Visit:
    """Return a standing visit that this person may change; any other is not found."""
    visit = Visit.objects.standing().filter(pk=visit_id).first()
    if visit is None or not may.take_enquiries(person):
        raise Http404("There is no such visit, or it is no longer standing.")
    return visit


def visits_on(person: Person, day: date) -> VisitQuerySet:
    """Return where this person goes to look at jobs that day, in order."""
    visits = Visit.objects.standing().filter(person=person, on=day)
    return visits.select_related("job__customer", "job__site")


def visits_between(first_on: date, last_on: date) -> VisitQuerySet:
    """Return everybody's standing visits of some days, in order."""
    visits = Visit.objects.standing().filter(on__range=(first_on, last_on))
    return visits.select_related("job__customer", "job__site", "person")


def visits_not_closed(today: date) -> VisitQuerySet:
    """Return visits whose day has gone by and of which nobody said what was seen."""
    visits = Visit.objects.standing().filter(on__lt=today)
    return visits.select_related("job__customer", "job__site", "person")


def times_on_offer(
    person: Person, district: str, now: datetime, *, not_job: Job | None = None
) -> list[VisitTime]:
    """Return the handiest free times of a person, beside the visits they have."""
    today = localdate(now)
    return visit_times(
        district=district,
        standing=list(_diary_of(person, today, not_job)),
        times=VISIT_TIMES,
        days=working_days_around(today),
        today=today,
        gone=localtime(now).time(),
    )


def _diary_of(
    person: Person, today: date, not_job: Job | None
) -> Iterable[StandingVisit]:
    # Ten working days never reach further than three weeks and a long closure.
    ahead = visits_between(today, today + timedelta(days=40)).filter(person=person)
    for visit in ahead:
        if not_job is None or visit.job_id != not_job.pk:
            yield StandingVisit(
                on=visit.on,
                at=visit.at,
                district=visit.job.site.district,
                name=visit.job.customer.name,
            )
