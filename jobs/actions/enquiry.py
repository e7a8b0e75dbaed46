"""The phone rings: who, where, what and when, written down in one go."""

from dataclasses import dataclass, replace
from datetime import date, datetime

from django.db import transaction
from django.utils.timezone import localdate

from firm import may
from firm.actions import history
from firm.actions.numbers import take_number
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.actions.customer import CustomerFacts, edit_customer, enter_customer
from jobs.actions.visit import VisitFacts, book_visit
from jobs.engine import contact
from jobs.models import Customer, Enquiry, Job, Site


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteFacts:
    """Where the work is, and how to get to it."""

    address: str
    postcode: str
    way_in: str = ""
    parking: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFacts:
    """What was asked for."""

    what: str
    said: str
    wanted_by_on: date | None = None
    others_on_site: str = ""
    heard_of_us: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """All that was said on the phone; a known customer by their id."""

    who: CustomerFacts
    where: SiteFacts
    asked: AskedFacts
    visit: VisitFacts | None = None
    customer_id: int | None = None
    is_somebody_else: bool = False


@transaction.atomic
def take_enquiry(call: Call, *, by: Person, now: datetime) -> Job:
    """Write down customer, place, job and visit, and confirm the visit."""
    if not may.take_enquiries(by):
        raise Refused("Only the office can take an enquiry.")
    _check_asked(call.asked, localdate(now))
    customer = _caller(call, by, now)
    job = _open(call, customer, by, now)
    history.write(
        about=("job", job.pk),
        event="rang-in",
        words=f"{customer.name} asked for: {job.what}.",
        now=now,
        by=by,
    )
    if call.visit is not None:
        book_visit(job.pk, call.visit, by=by, now=now)
    return job


@transaction.atomic
def edit_enquiry(
    job_id: int, where: SiteFacts, asked: AskedFacts, *, by: Person, now: datetime
) -> None:
    """Change what was asked for, or how to get to the place."""
    if not may.take_enquiries(by):
        raise Refused("Only the office can change a job.")
    job = Job.objects.select_for_update().filter(pk=job_id).first()
    if job is None:
        raise Refused("There is no such job.")
    if asked.wanted_by_on != job.wanted_by_on:
        _check_asked(asked, localdate(now))
    Job.objects.filter(pk=job.pk).update(
        what=contact.line(asked.what), wanted_by_on=asked.wanted_by_on
    )
    Enquiry.objects.filter(job=job).update(**_said(asked))
    Site.objects.filter(pk=job.site_id).update(**_place(where))
    history.write(
        about=("job", job.pk),
        event="changed",
        words="Changed what was asked for, or the place.",
        now=now,
        by=by,
    )


def place_for(customer: Customer, where: SiteFacts) -> Site:
    """Return the customer's place at that address, written down once."""
    place = _place(where)
    same = Site.objects.filter(customer=customer, postcode_key=place["postcode_key"])
    for site in same:
        if site.address.casefold() == place["address"].casefold():
            told = {name: words for name, words in place.items() if words}
            Site.objects.filter(pk=site.pk).update(**told)
            return site
    return Site.objects.create(customer=customer, **place)


def _place(where: SiteFacts) -> dict[str, str]:
    return {
        "address": contact.lines(where.address),
        "postcode": contact.postcode(where.postcode),
        "postcode_key": contact.postcode_key(where.postcode),
        "way_in": contact.line(where.way_in),
        "parking": contact.line(where.parking),
    }


def _said(asked: AskedFacts) -> dict[str, str]:
    return {
        "said": contact.lines(asked.said),
        "others_on_site": contact.line(asked.others_on_site),
        "heard_of_us": contact.line(asked.heard_of_us),
    }


def _check_asked(asked: AskedFacts, today: date) -> None:
    if not asked.what.strip():
        raise Refused("Say in a few words what the job is.", field="what")
    if asked.wanted_by_on is not None and asked.wanted_by_on < today:
        raise Refused("That day has gone by. Give a later one.", field="wanted_by_on")


def _caller(call: Call, by: Person, now: datetime) -> Customer:
    if call.customer_id is None:
        who = call.who
        if who.kind == Customer.Kind.HOUSEHOLDER and not who.address:
            # Most people live where the plaster goes on; a contractor does not.
            who = replace(who, address=call.where.address, postcode=call.where.postcode)
        return enter_customer(
            who, is_somebody_else=call.is_somebody_else, by=by, now=now
        )
    customer = Customer.objects.filter(pk=call.customer_id).first()
    if customer is None:
        raise Refused("That customer is no longer in the book. Type them in afresh.")
    news = replace(
        call.who,
        name=customer.name,
        address=customer.address,
        postcode=customer.postcode,
    )
    edit_customer(customer.pk, news, by=by, now=now)
    return customer


def _open(call: Call, customer: Customer, by: Person, now: datetime) -> Job:
    asked = call.asked
    job = Job.objects.create(
        number=take_number("job"),
        customer=customer,
        site=place_for(customer, call.where),
        what=contact.line(asked.what),
        wanted_by_on=asked.wanted_by_on,
        opened_at=now,
    )
    Enquiry.objects.create(job=job, taken_by=by, taken_at=now, **_said(asked))
    return job
