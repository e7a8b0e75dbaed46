"""What is said on the phone, as the actions take it."""

from dataclasses import replace
from datetime import date, time
from typing import Any

from jobs.actions.customer import CustomerFacts
from jobs.actions.enquiry import AskedFacts, Call, SiteFacts
from jobs.actions.visit import VisitFacts
from tests.making import people

MONDAY = date(2026, 3, 9)


def call(**changes: Any) -> Call:
    """Rosa Reed rings about two bedrooms, and is not in the book yet."""
    said = Call(
        who=CustomerFacts(
            name="Rosa Reed", phone="07700 900123", email="rosa@example.com"
        ),
        where=SiteFacts(
            address="14 Larch Row\nSandford", postcode="zz12ab", way_in="Side gate"
        ),
        asked=AskedFacts(what="Skim two bedrooms", said="Old paint, ceilings too."),
    )
    return replace(said, **changes)


def visit_facts(**changes: Any) -> VisitFacts:
    """Return Monday 9 March at half past nine, by the owner."""
    at_half_past = VisitFacts(person_id=people.owner().pk, on=MONDAY, at=time(9, 30))
    return replace(at_half_past, **changes)
