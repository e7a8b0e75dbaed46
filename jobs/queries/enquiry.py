"""Enquiries: those that wait for the firm, and what a known caller need not repeat."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.timezone import localdate

from firm import may
from firm.models import Person
from jobs.models import Customer, Job, Site, Visit
from jobs.queries.customer import customers_seen_by, site_of

WAITING = (Job.Stage.ENQUIRY, Job.Stage.VISIT, Job.Stage.LOOKED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A job that waits for a visit or a quote, and for how long it has waited."""

    job: Job
    visit: Visit | None
    days: int
    is_visit_past: bool


def enquiries_waiting(today: date) -> list[Waiting]:
    """Return jobs not yet quoted, the longest waiting first within each stage."""
    jobs = Job.objects.at_stage(*WAITING).with_people().order_by("opened_at", "pk")
    standing = Visit.objects.standing().filter(job__stage__in=WAITING)
    visits = {visit.job_id: visit for visit in standing.select_related("person")}
    return [_waiting(job, visits.get(job.pk), today) for job in jobs]


def waiting_for(person: Person, today: date) -> dict[str, list[Waiting]]:
    """Return the waiting jobs by stage, for whoever answers the phone."""
    if not may.take_enquiries(person):
        return {}
    found = enquiries_waiting(today)
    return {
        stage: [one for one in found if one.job.stage == stage] for stage in WAITING
    }


def _waiting(job: Job, visit: Visit | None, today: date) -> Waiting:
    return Waiting(
        job=job,
        visit=visit,
        days=(today - localdate(job.opened_at)).days,
        is_visit_past=visit is not None and visit.on < today,
    )


def chosen(person: Person, customer_id: str) -> Customer | None:
    """Return the customer picked from the book, if this person may see them."""
    if not customer_id.isdecimal() or len(customer_id) > 18:
        return None
    return customers_seen_by(person).filter(pk=int(customer_id)).first()


def known_words(customer: Customer, place_id: str) -> dict[str, Any]:
    """Return what need not be typed again about a customer and their place."""
    is_id = place_id.isdecimal() and len(place_id) <= 18
    site = site_of(customer, int(place_id) if is_id else None)
    words: dict[str, Any] = {
        "customer": customer.pk,
        "name": customer.name,
        "phone": customer.phone,
        "email": customer.email,
        "kind": customer.kind,
    }
    return words | (_place(site) if site is not None else {})


def _place(site: Site) -> dict[str, str]:
    return {
        "address": site.address,
        "postcode": site.postcode,
        "way_in": site.way_in,
        "parking": site.parking,
    }


def places_of(customer: Customer) -> list[Site]:
    return list(Site.objects.filter(customer=customer).order_by("-pk")[:10])
