"""Who works in the demo firm, and how each of them signs in."""

from firm.management.demo import told
from firm.models import Person

# Everybody knows it, so the demo is planted on a machine of one's own alone.
PASSWORD = "lime putty and horsehair"  # noqa: S105 - of people who do not exist


def password_in_use() -> str | None:
    """Return the demo's password while the demo's owner still signs in with it."""
    first = told.the_setting().people[0]
    owner = Person.objects.staff().filter(email=first.email, name=first.name).first()
    return PASSWORD if owner and owner.check_password(PASSWORD) else None


def sign_ins() -> list[str]:
    """Return a line for each person, and the password that they share."""
    people = told.the_setting().people
    lines = [f"  {person.email:<24} {who(person)}" for person in people]
    return [*lines, f"  password of each: {PASSWORD}"]


def who(person: told.PersonTold) -> str:
    roles = {
        "owner": "owner",
        "office": "office",
        "books": "bookkeeper",
        "lead": "leads",
        "crew": "mate in",
    }
    crew = f" the {person.crew}" if person.crew else ""
    return f"{person.name}, {roles[person.role]}{crew}"
