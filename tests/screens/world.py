"""One firm on one morning, with one thing of each kind, and who may knock at it."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import time, timedelta

from django.db import connection
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from firm.actions.links import make_link
from firm.actions.printing import store
from firm.models import Notice, NumberSeries, Paper, Payee, Pulse
from firm.queries.papers import path_of
from firm.views.firm import TRADE
from invoices.models import Bill
from jobs.engine.slots import Half
from jobs.models import Booking, Job
from quotes.actions.quote import send_quote, write_quote
from quotes.models import QuoteVersion
from tests import make
from tests.firm.letters import letter
from tests.screens.looking import signed_in

SIGNED_IN = ("owner", "office", "lead", "crew", "books")
BY_LINK = ("quote", "bill")
# What a look alone may write: the cache, a visitor's session, and the list of
# addresses that allauth fills when it first looks for somebody's.
NOT_WATCHED = {"firm_cache", "django_session", "account_emailaddress"}
# Planted once each, and never for the eyes of people on the tools.
SECRETS = {
    "price": "7,654.32",
    "wage": "31.17",
    "email": "rosa.secret@example.com",
    "bank account": "97531864",
    "sort code": "60-83-71",
    "office note": "Pays late, ask for a third first.",
}
Ids = dict[str, object]


@dataclass(frozen=True, kw_only=True)
class World:
    places: dict[str, Ids]
    links: dict[str, str]
    foreign_job: int

    def url(self, name: str) -> str:
        return reverse(name, kwargs=self.places[name])


def build() -> World:
    """Make everything anew, inside the caller's own transaction."""
    make.firm()
    Pulse.objects.create(name="worker", beaten_at=make.NOW)
    account()
    # Builders number a quote as its job; those written by the office go on from here.
    NumberSeries.objects.create(name="quote", next_number=1000)
    blue, red = make.crew(), make.crew("Red crew")
    for role in SIGNED_IN:
        make.person(role, crew=blue if role in {"lead", "crew"} else None)
    make.rates(plasterer_hour_gbp=SECRETS["wage"])
    make.prices()
    ours = secretive(make.booked_job(make.TODAY, crew=blue))
    theirs = make.booked_job(make.TODAY, crew=red)
    sent, bill = sent_quote(make.job("looked")), make.bill()
    common, own = ids(ours, sent, bill), exceptions(ours)
    places = {
        name: {word: own.get(name, {}).get(word, common.get(word)) for word in words}
        for name, words in addresses()
    }
    links = {"quote": link_to("quote", sent.pk), "bill": link_to("bill", bill.pk)}
    return World(places=places, links=links, foreign_job=theirs.pk)


def ids(ours: Job, sent: QuoteVersion, bill: Bill) -> Ids:
    """Return what an address holds unless it asks for something particular."""
    looked = make.job("looked")
    room = make.look_w1(looked).rooms.get()
    order = make.order(ours, [make.need(ours)])
    return {
        "job_id": looked.pk,
        "room_id": room.pk,
        "wall_id": room.walls.all()[1].pk,
        "opening_id": room.openings.first().pk,
        "version_id": sent.pk,
        "bill_id": bill.pk,
        "paper_id": printed(bill).pk,
        "customer_id": bill.customer_id,
        "payment_id": make.payment(bill, "10.00").pk,
        "order_id": order.pk,
        "merchant_id": order.merchant_id,
        "booking_id": Booking.objects.get(job=ours).pk,
        "visit_id": make.visit(make.job("visit"), on=make.TODAY, at=time(8)).pk,
        "trade_id": make.other_trade(ours, ready_on=make.TODAY).pk,
        "days": 1,
        "person_id": make.office().pk,
        "notice_id": letter(now=make.NOW).pk,
        "before": letter_that("sent", settled_at=make.NOW).pk,
        "code": next(iter(TRADE)),
        "token": "a" * 43,
        "uidb36": "1",
        "key": "used-before",
    }


def exceptions(ours: Job) -> dict[str, Ids]:
    """Return what only these addresses need: something in the right state."""
    won = make.won_job()
    make.need(won)
    done = make.finished_job()
    make.booking(done, [Half(make.TODAY, "am")], crew=make.crew("Green crew"))
    sent = make.order(
        won,
        [make.need(won, item_code="M-SEA")],
        state="sent",
        number=900,
        sent_at=make.NOW,
    )
    leaver = make.person("office", email="leaver@example.com", is_active=False)
    no_answer = {"why": "No answer came."}
    return {
        "jobs:when": {"job_id": won.pk},
        "jobs:order-new": {"job_id": won.pk},
        "jobs:finish": {"job_id": ours.pk},
        "jobs:sheet": {"job_id": ours.pk},
        "jobs:note-new": {"job_id": ours.pk},
        "jobs:finish-undo": {"job_id": done.pk},
        "jobs:job-again": {"job_id": make.job("lost", lost_because="Too dear").pk},
        "jobs:order-arrived": {"order_id": sent.pk},
        "invoices:bill-new": {"job_id": done.pk},
        "quotes:quote-send": {"version_id": draft_of(make.job("looked")).pk},
        "firm:person-back": {"person_id": leaver.pk},
        "firm:letter-let-go": {"notice_id": letter_that("held").pk},
        "firm:letter-arrived": {"notice_id": letter_that("unsure", **no_answer).pk},
        "firm:letter-send-again": {"notice_id": letter_that("unsure", **no_answer).pk},
    }


def account() -> Payee:
    return Payee.objects.create(
        account_name="Hawk and Trowel",
        sort_code=SECRETS["sort code"],
        account_number=SECRETS["bank account"],
        active_from_at=make.NOW - timedelta(days=100),
    )


def secretive(job: Job) -> Job:
    """Give a crew's own job what the crew must never read."""
    job.customer.email = SECRETS["email"]
    job.customer.save()
    job.enquiry.said = SECRETS["office note"]
    job.enquiry.save()
    make.accepted_quote(job, net_gbp=SECRETS["price"].replace(",", ""))
    return job


def draft_of(job: Job) -> QuoteVersion:
    make.look_w1(job)
    return write_quote(
        job.pk, vat_kind="standard", by=make.office(), today=make.TODAY, now=make.NOW
    )


def sent_quote(job: Job) -> QuoteVersion:
    return send_quote(
        draft_of(job).pk,
        valid_until_on=make.TODAY + timedelta(days=30),
        by=make.office(),
        today=make.TODAY,
        now=make.NOW,
    )


def printed(bill: Bill) -> Paper:
    """Keep bytes for every paper, as the worker does once it has printed one."""
    pdf = b"%PDF-1.7 as far as a page knows"
    digest = hashlib.sha256(pdf).hexdigest()
    store(pdf, path_of(digest))
    Paper.objects.update(
        state="made", digest=digest, size_bytes=len(pdf), made_at=make.NOW
    )
    return bill.paper


def letter_that(state: str, **columns: object) -> Notice:
    made = letter(now=make.NOW)
    Notice.objects.filter(pk=made.pk).update(state=state, **columns)
    return made


def link_to(purpose: str, about_id: int) -> str:
    address = make_link(
        purpose=purpose,
        about_id=about_id,
        expires_at=make.NOW + timedelta(days=30),
        now=make.NOW,
    )
    return "/l/" + address.partition("/l/")[2]


def visitor(world: World, who: str) -> Client:
    """Return somebody's browser: signed in, let in by a link, or a stranger's."""
    browser = signed_in(make.person(who)) if who in SIGNED_IN else Client()
    if who in BY_LINK:
        assert browser.get(world.links[who]).status_code == 303
    browser.raise_request_exception = False
    return browser


def addresses() -> list[tuple[str, set[str]]]:
    """Return each address of the project by its name, with the words in it."""
    return sorted(_walk(get_resolver()), key=lambda found: found[0])


def _walk(
    resolver: URLResolver, names: tuple[str, ...] = ()
) -> Iterator[tuple[str, set[str]]]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLPattern):
            name = ":".join([*names, entry.name or str(entry.pattern)])
            yield name, set(entry.pattern.regex.groupindex)
        else:
            yield from _walk(entry, (*names, *filter(None, [entry.namespace])))


def rows() -> dict[str, int]:
    """Return a sum over all rows of each table that is watched."""
    sums = {}
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names(cursor):
            if table not in NOT_WATCHED:
                cursor.execute(f'SELECT * FROM "{table}" ORDER BY 1')  # noqa: S608 - its own names
                sums[table] = hash(repr(cursor.fetchall()))
    return sums


def changed(before: dict[str, int]) -> list[str]:
    after = rows()
    return sorted(table for table in before if before[table] != after[table])
