"""Book a look at a job, move it, call it off, or say that it has been made."""

from dataclasses import dataclass
from datetime import date, datetime, time

from django.db import IntegrityError, transaction
from django.utils.timezone import localdate, localtime

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.models import Person
from firm.templatetags.figures import clock, short_day
from jobs.actions import visit_letters
from jobs.actions.job import mark_looked_at
from jobs.models import VISIT_TIMES, Job, Visit

ONLY_THE_OFFICE = "Only the office can book visits."
NO_LONGER = "That visit was moved or called off already. Look at the job again."
LONGEST_AHEAD_DAYS = 366


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitFacts:
    """Who goes, and when."""

    person_id: int
    on: date
    at: time


@transaction.atomic
def book_visit(job_id: int, facts: VisitFacts, *, by: Person, now: datetime) -> Visit:
    """Put a look at the job into somebody's diary and tell the customer."""
    _check(by)
    job = _open_job(job_id)
    if Visit.objects.standing().filter(job=job).exists():
        raise Refused("This job has a visit booked already. Move that one instead.")
    visit = _place(job, facts, now)
    Job.objects.filter(pk=job.pk).at_stage(Job.Stage.ENQUIRY).update(
        stage=Job.Stage.VISIT
    )
    visit_letters.confirm(visit, was_moved=False, now=now)
    _tell(visit, "visit-booked", f"Visit booked: {_words(visit)}.", by, now)
    return visit


@transaction.atomic
def move_visit(visit_id: int, facts: VisitFacts, *, by: Person, now: datetime) -> Visit:
    """Take a visit out of the diary, put it back elsewhere, and say so."""
    _check(by)
    old = _standing(visit_id)
    if (old.person_id, old.on, old.at) == (facts.person_id, facts.on, facts.at):
        raise Refused("That is when the visit is already.", field="visit")
    _end(old, Visit.State.OFF)
    visit_letters.take_back(old, "The visit was moved.", now=now)
    visit = _place(old.job, facts, now)
    visit_letters.confirm(visit, was_moved=True, now=now)
    _tell(visit, "visit-moved", f"Visit moved: now {_words(visit)}.", by, now)
    return visit


@transaction.atomic
def call_off_visit(visit_id: int, *, by: Person, now: datetime) -> None:
    """Take a visit out of the diary for good, and tell the customer."""
    _check(by)
    visit = _standing(visit_id)
    _end(visit, Visit.State.OFF)
    Job.objects.filter(pk=visit.job_id).at_stage(Job.Stage.VISIT).update(
        stage=Job.Stage.ENQUIRY
    )
    visit_letters.take_back(visit, "The visit was called off.", now=now)
    visit_letters.say_it_is_off(visit, now=now)
    _tell(visit, "visit-off", f"Visit called off: {_words(visit)}.", by, now)


@transaction.atomic
def mark_visit_done(visit_id: int, *, by: Person, now: datetime) -> None:
    """Say that the visit was made: the job has been looked at."""
    _check(by)
    visit = _standing(visit_id)
    if visit.on > localdate(now):
        raise Refused(
            f"That visit is on {short_day(visit.on)}. Move it to the day it was made."
        )
    _end(visit, Visit.State.DONE)
    _tell(visit, "visit-made", f"Visit made: {_words(visit)}.", by, now)
    mark_looked_at(visit.job_id, by=by, now=now)


def _check(by: Person) -> None:
    if not may.take_enquiries(by):
        raise Refused(ONLY_THE_OFFICE)


def _open_job(job_id: int) -> Job:
    job = Job.objects.live().with_people().filter(pk=job_id).first()
    if job is None:
        raise Refused("This job is closed. Take it up again before booking a visit.")
    return job


def _standing(visit_id: int) -> Visit:
    visits = Visit.objects.standing().filter(pk=visit_id)
    visit = visits.select_related("job__customer", "job__site", "person").first()
    if visit is None:
        raise Refused(NO_LONGER)
    return visit


def _end(visit: Visit, state: Visit.State) -> None:
    if not Visit.objects.standing().filter(pk=visit.pk).update(state=state):
        raise Refused(NO_LONGER)


def _place(job: Job, facts: VisitFacts, now: datetime) -> Visit:
    person = _visitor(facts.person_id)
    _check_time(facts, now)
    try:
        with transaction.atomic():
            return Visit.objects.create(
                job=job, person=person, on=facts.on, at=facts.at
            )
    except IntegrityError:
        raise Refused(
            f"{person.first_name} has another visit on {short_day(facts.on)}"
            f" at {clock(facts.at)}. Pick another time.",
            field="visit",
        ) from None


def _visitor(person_id: int) -> Person:
    person = Person.objects.staff().filter(pk=person_id).first()
    if person is None or not may.look_at_jobs(person):
        raise Refused("Pick somebody who goes to look at jobs.", field="visit_person")
    return person


def _check_time(facts: VisitFacts, now: datetime) -> None:
    if facts.at not in VISIT_TIMES:
        raise Refused("Pick one of the visit times.", field="visit")
    if (facts.on, facts.at) <= (localdate(now), localtime(now).time()):
        raise Refused("That time has gone by. Pick a later one.", field="visit")
    if (facts.on - localdate(now)).days > LONGEST_AHEAD_DAYS:
        raise Refused(
            "That is more than a year ahead. Pick a day nearer.", field="visit"
        )


def _words(visit: Visit) -> str:
    return f"{visit.person.name} on {short_day(visit.on)} at {clock(visit.at)}"


def _tell(visit: Visit, event: str, words: str, by: Person, now: datetime) -> None:
    about = ("job", visit.job_id)
    history.write(about=about, event=event, words=words, now=now, by=by)
