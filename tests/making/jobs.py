"""Customers, places, jobs and what stands around them."""

from datetime import UTC, date, datetime, time
from typing import Any

from django.db import transaction
from django.utils.timezone import localdate

from firm.actions.numbers import take_number
from firm.models import Person
from jobs.models import Customer, Enquiry, Job, OtherTrade, Site, Visit
from jobs.queries.calendar import working_days_around
from tests.making import people

# A Wednesday in spring: no bank holiday within a fortnight either side.
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
TODAY = NOW.date()
AT_ELEVEN = time(11)


def tomorrow(days: int = 1) -> date:
    """Return a working day to come, by the clock that pages read."""
    return working_days_around(localdate()).add(localdate(), days)


def customer(name: str = "Rosa Reed", **columns: Any) -> Customer:
    columns.setdefault("phone", "+447700900123")
    columns.setdefault("email", "rosa@example.com")
    columns.setdefault("address", "14 Larch Row\nSandford")
    columns.setdefault("postcode", "ZZ1 2AB")
    columns.setdefault("postcode_key", columns["postcode"].replace(" ", ""))
    columns.setdefault("made_at", NOW)
    same = Customer.objects.filter(name=name, phone=columns["phone"]).first()
    return same or Customer.objects.create(name=name, **columns)


def site(of: Customer | None = None, **columns: Any) -> Site:
    of = of or customer()
    columns.setdefault("address", of.address or "14 Larch Row\nSandford")
    columns.setdefault("postcode", of.postcode or "ZZ1 2AB")
    columns.setdefault("postcode_key", columns["postcode"].replace(" ", ""))
    return Site.objects.create(customer=of, **columns)


def job(
    stage: str = "enquiry",
    *,
    of: Customer | None = None,
    at: Site | None = None,
    **columns: Any,
) -> Job:
    """Return a job at a stage, with the next number and what was said about it."""
    at = at or site(of)
    columns.setdefault("what", "Skim two bedrooms")
    columns.setdefault("opened_at", NOW)
    columns.setdefault("finished_on", TODAY if stage == "done" else None)
    columns.setdefault("number", _next_number())
    made = Job.objects.create(customer=at.customer, site=at, stage=stage, **columns)
    Enquiry.objects.create(
        job=made,
        said="Two bedrooms, old paint, ceilings too.",
        taken_by=people.office(),
        taken_at=made.opened_at,
    )
    return made


def _next_number() -> int:
    with transaction.atomic():
        return take_number("job")


def visit(
    to: Job | None = None,
    *,
    on: date = date(2026, 3, 9),
    at: time = time(9, 30),
    person: Person | None = None,
    **columns: Any,
) -> Visit:
    to = to or job("visit")
    person = person or people.owner()
    return Visit.objects.create(job=to, person=person, on=on, at=at, **columns)


def other_trade(on_job: Job | None = None, **columns: Any) -> OtherTrade:
    columns.setdefault("trade", "Electrician")
    columns.setdefault("side", "before")
    if columns.get("ready_on"):
        columns.setdefault("sure", "promised")
    return OtherTrade.objects.create(job=on_job or job(), **columns)
