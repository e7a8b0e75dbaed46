"""Write a customer down once, and change what is written."""

from dataclasses import dataclass
from datetime import datetime

from django.db import IntegrityError, transaction

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.engine import contact
from jobs.models import Customer
from jobs.queries.customer import same_person

ONLY_THE_OFFICE = "Only the office can write customers down."
IN_THE_BOOK = "Somebody of that name with that number is in the book already."


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerFacts:
    """Who somebody is and how to reach them, as typed."""

    name: str
    phone: str = ""
    email: str = ""
    kind: str = Customer.Kind.HOUSEHOLDER
    address: str = ""
    postcode: str = ""


def enter_customer(
    facts: CustomerFacts, *, is_somebody_else: bool, by: Person, now: datetime
) -> Customer:
    """Write a new customer down, inside the transaction of the call they made."""
    columns = _columns(facts)
    known = same_person(columns["name"], columns["phone"], columns["postcode"])
    if known and not is_somebody_else:
        raise Refused(
            f"{known[0].name} is in the book already. Say that this is them,"
            " or tick that it is somebody else.",
            field="somebody_else",
        )
    try:
        with transaction.atomic():
            customer = Customer.objects.create(**columns, made_at=now)
    except IntegrityError:
        raise Refused(f"{IN_THE_BOOK} Say that this is them.", field="phone") from None
    _tell(customer, "customer-entered", "Written down.", by, now)
    return customer


@transaction.atomic
def edit_customer(
    customer_id: int, facts: CustomerFacts, *, by: Person, now: datetime
) -> None:
    """Change what is written about a customer."""
    if not may.take_enquiries(by):
        raise Refused(ONLY_THE_OFFICE)
    customer = Customer.objects.select_for_update().filter(pk=customer_id).first()
    if customer is None:
        raise Refused("There is no such customer.")
    changed = _changes(customer, _columns(facts))
    if not changed:
        return
    for column, value in changed.items():
        setattr(customer, column, value)
    try:
        with transaction.atomic():
            customer.save(update_fields=list(changed))
    except IntegrityError:
        raise Refused(IN_THE_BOOK, field="phone") from None
    named = [name for name in changed if name != "postcode_key"]
    words = f"Changed: {', '.join(named)}."
    _tell(customer, "customer-changed", words, by, now)


def _columns(facts: CustomerFacts) -> dict[str, str]:
    if not facts.name.strip():
        raise Refused("Give the customer's name.", field="name")
    if not facts.phone and not facts.email:
        raise Refused("Give a phone number or an email address.", field="phone")
    return {
        "name": contact.line(facts.name),
        "phone": contact.phone_number(facts.phone) if facts.phone else "",
        "email": facts.email,
        "kind": facts.kind,
        "address": contact.lines(facts.address),
        "postcode": contact.postcode(facts.postcode) if facts.postcode else "",
        "postcode_key": contact.postcode_key(facts.postcode),
    }


def _changes(customer: Customer, columns: dict[str, str]) -> dict[str, str]:
    return {
        name: value
        for name, value in columns.items()
        if getattr(customer, name) != value
    }


def _tell(
    customer: Customer, event: str, words: str, by: Person, now: datetime
) -> None:
    about = ("customer", customer.pk)
    history.write(about=about, event=event, words=words, now=now, by=by)
