"""Builders: ``make.job(stage="won")`` and its kin, one typed function a noun."""

from tests.making.enquiries import MONDAY, call, visit_facts
from tests.making.jobs import NOW, TODAY, customer, job, other_trade, site, visit
from tests.making.money import accepted_quote, bill, finished_job, payee, payment
from tests.making.people import (
    PASSWORD,
    bookkeeper,
    crew,
    firm,
    lead,
    office,
    owner,
    person,
    plasterer,
)
from tests.making.prices import prices, quotable_job, rates
from tests.making.quotes import (
    BOARD,
    DAMP,
    PAINTED,
    TEXTURED,
    look,
    look_w1,
    opening,
    room,
    version_of,
)

__all__ = [
    "accepted_quote",
    "bill",
    "finished_job",
    "payee",
    "payment",
    "BOARD",
    "DAMP",
    "MONDAY",
    "NOW",
    "PAINTED",
    "PASSWORD",
    "TEXTURED",
    "TODAY",
    "bookkeeper",
    "call",
    "crew",
    "customer",
    "firm",
    "job",
    "lead",
    "look",
    "look_w1",
    "office",
    "opening",
    "other_trade",
    "owner",
    "person",
    "plasterer",
    "prices",
    "quotable_job",
    "rates",
    "room",
    "site",
    "version_of",
    "visit",
    "visit_facts",
]
