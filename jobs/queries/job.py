"""Jobs: who may see them, lists of them, and one with all that stands around it."""

from dataclasses import dataclass

from django.db.models import Q
from django.http import Http404

from firm import may
from firm.models import HistoryLine, Notice, Person
from firm.models.history import HistoryQuerySet
from firm.queries.tray import notices_for_job
from jobs.engine import contact
from jobs.models import Job, OtherTrade, Visit
from jobs.models.job import JobQuerySet
from jobs.queries.job_page import Section, sections_for
from jobs.queries.visit import standing_visit

NOT_FOUND = "There is no such job."
LATEST = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class JobPage:
    """All that the page of a job shows, read in as few questions as it takes."""

    job: Job
    visit: Visit | None
    other_trades: list[OtherTrade]
    sections: list[tuple[str, Section]]
    notices: list[Notice]
    history: list[HistoryLine]


def jobs_seen_by(person: Person) -> JobQuerySet:
    jobs = Job.objects.with_people()
    return jobs if may.see_customers(person) else jobs.none()


def job_for(person: Person, job_id: int) -> Job:
    """Return a job whose page this person may see; any other is not found."""
    job = jobs_seen_by(person).select_related("enquiry").filter(pk=job_id).first()
    if job is None:
        raise Http404(NOT_FOUND)
    return job


def job_to_change(person: Person, job_id: int) -> Job:
    """Return a job that this person may change; the bookkeeper only reads."""
    if not may.take_enquiries(person):
        raise Http404(NOT_FOUND)
    return job_for(person, job_id)


def job_page(person: Person, job_id: int) -> JobPage:
    job = job_for(person, job_id)
    return JobPage(
        job=job,
        visit=standing_visit(job),
        other_trades=list(OtherTrade.objects.filter(job=job)),
        sections=sections_for(job, person),
        notices=list(notices_for_job(job.pk).order_by("-due_at", "-pk")[:LATEST]),
        history=list(_history(job)[:LATEST]),
    )


def _history(job: Job) -> HistoryQuerySet:
    return HistoryLine.objects.about("job", job.pk).select_related("by")


def job_list(
    person: Person, stage: str, words: str, before: str, size: int
) -> tuple[list[Job], str]:
    """Return a page of jobs, the latest first, and the key of the next page."""
    jobs = jobs_seen_by(person)
    if stage in Job.Stage.values:
        jobs = jobs.at_stage(stage)
    if words.strip():
        jobs = matching(jobs, words.strip())
    if before.isdecimal() and len(before) < 10:
        jobs = jobs.filter(number__lt=int(before))
    rows = list(jobs.order_by("-number")[: size + 1])
    return rows[:size], str(rows[size - 1].number) if len(rows) > size else ""


def matching(jobs: JobQuerySet, words: str) -> JobQuerySet:
    """Return jobs whose number, words, place or customer match."""
    key = contact.postcode_key(words)
    match = (
        Q(what__icontains=words)
        | Q(customer__name__icontains=words)
        | Q(customer__email__icontains=words)
        | Q(site__address__icontains=words)
        | Q(site__postcode_key__startswith=key)
    )
    digits = "".join(mark for mark in words if mark in "0123456789").lstrip("0")
    if len(digits) >= 4:
        match |= Q(customer__phone__contains=digits.removeprefix("44").lstrip("0"))
    number = words.lower().removeprefix("job").strip()
    if number.isdecimal() and len(number) < 10:
        match |= Q(number=int(number))
    return jobs.filter(match)


def trade_for(person: Person, trade_id: int) -> OtherTrade:
    """Return another trade's work that this person may change."""
    trade = OtherTrade.objects.select_related("job").filter(pk=trade_id).first()
    if trade is None or not may.take_enquiries(person):
        raise Http404("There is no such trade on a job.")
    return trade
