"""The firm and its fixed cast, so that a test reads as a story."""

from typing import Any

from firm.models import Crew, Firm, Person

PASSWORD = "lime putty and horsehair"  # noqa: S105 - of people who do not exist
NAMES = {
    "owner": "Olive Trowell",
    "office": "Fay Hawker",
    "lead": "Len Floater",
    "crew": "Mick Mixer",
    "books": "Bea Ledger",
}


def firm(**columns: Any) -> Firm:
    defaults = {
        "name": "Hawk and Trowel",
        "address": "Unit 3\nThe Old Dairy\nLittle Sandford",
        "postcode": "ZZ1 1AA",
        "phone": "+441632960100",
        "email": "office@example.com",
        "vat_number": "GB999999973",
    }
    return Firm.objects.update_or_create(pk=1, defaults=defaults | columns)[0]


def crew(name: str = "Blue crew", **columns: Any) -> Crew:
    return Crew.objects.update_or_create(name=name, defaults=columns)[0]


def person(role: str = "office", **columns: Any) -> Person:
    """Return the one of the cast who has this role, or somebody else by email."""
    email = columns.pop("email", f"{role}@example.com")
    found = Person.objects.filter(email=email).first()
    if found is not None:
        return found
    columns.setdefault("name", NAMES.get(role, role))
    return Person.objects.create_user(email, PASSWORD, role=role, **columns)


def owner() -> Person:
    return person("owner")


def office() -> Person:
    return person("office")


def lead(**columns: Any) -> Person:
    return person("lead", **columns)


def plasterer(**columns: Any) -> Person:
    return person("crew", **columns)


def bookkeeper() -> Person:
    return person("books")
