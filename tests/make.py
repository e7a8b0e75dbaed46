"""Builders: ``make.job(stage="won")`` and its kin, one typed function a noun."""

from tests.making.jobs import NOW, TODAY, customer, job, other_trade, site, visit
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

__all__ = [
    "NOW",
    "PASSWORD",
    "TODAY",
    "bookkeeper",
    "crew",
    "customer",
    "firm",
    "job",
    "lead",
    "office",
    "other_trade",
    "owner",
    "person",
    "plasterer",
    "site",
    "visit",
]
