"""A quote for those who may see it: the office with working, customers without."""

from datetime import date

from django.db.models import QuerySet
from django.http import Http404

from firm import may
from firm.models import Person
from jobs.models import Job
from quotes.models import Acceptance, Quote, QuoteVersion

SHUT = (
    "This page was open for too long, or its link has run out."
    " Open the link in our letter again, or ring us."
)


def job_to_quote(person: Person, job_id: int) -> Job:
    job = Job.objects.with_people().filter(pk=job_id).first()
    if job is None or not may.see_prices(person):
        raise Http404("There is no such job for you to quote.")
    return job


def versions_of(job: Job) -> QuerySet[QuoteVersion]:
    versions = QuoteVersion.objects.filter(quote__job=job)
    return versions.select_related("quote", "paper")


def acceptance_of(job: Job) -> Acceptance | None:
    found = Acceptance.objects.filter(quote__job=job)
    return found.select_related("version", "taken_by").first()


def version_for(person: Person, version_id: int) -> QuoteVersion:
    versions = QuoteVersion.objects.select_related("quote__job__customer")
    version = versions.filter(pk=version_id).first()
    if version is None or not may.send_quotes(person):
        raise Http404("There is no such quote for you.")
    return version


def version_to_read(person: Person, version_id: int) -> QuoteVersion:
    versions = QuoteVersion.objects.select_related("quote").filter(pk=version_id)
    version = versions.first()
    if version is None or not may.see_prices(person):
        raise Http404("There is no such quote for you.")
    return version


def letter_for(version_id: int | None) -> QuoteVersion:
    """Return what a customer's link opens: that quote as it stands today."""
    versions = QuoteVersion.objects.select_related("quote__job", "paper")
    version = versions.filter(pk=version_id or 0).exclude(state="draft").first()
    if version is None:
        raise Http404(SHUT)
    if version.state == QuoteVersion.State.REPLACED:
        later = versions.filter(quote=version.quote, state__in=["sent", "accepted"])
        return later.first() or version
    return version


def accepted_version(job_id: int) -> QuoteVersion | None:
    """Return the version the customer said yes to, for the bill."""
    accepted = QuoteVersion.objects.filter(state=QuoteVersion.State.ACCEPTED)
    return accepted.select_related("quote").filter(quote__job=job_id).first()


def quotes_out(today: date) -> QuerySet[QuoteVersion]:
    """Return the quotes that wait for an answer, the longest silent first."""
    out = QuoteVersion.objects.out().filter(valid_until_on__gte=today)
    out = out.exclude(quote__job__stage=Job.Stage.LOST)
    return out.select_related("quote__job__customer").order_by("sent_at")


def looked_at_not_quoted() -> QuerySet[Job]:
    looked = Job.objects.at_stage(Job.Stage.LOOKED).with_people()
    return looked.order_by("opened_at")


def paper_is_for(person: Person, version_id: int) -> bool:
    return may.see_prices(person) and Quote.objects.filter(versions=version_id).exists()
