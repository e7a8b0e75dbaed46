"""Bring people into the firm, change what they are, and show them out."""

from datetime import datetime

from allauth.usersessions.models import UserSession
from django.conf import settings
from django.db import IntegrityError, transaction
from django.urls import reverse

from firm import may
from firm.actions import history
from firm.actions.tray import leave_notice
from firm.engine.refusal import Refused
from firm.models import Crew, Person

ONLY_THE_OWNER = "Only the owner can change who works here."
KNOWN_ADDRESS = "Somebody already signs in with that address."
WELCOME = """Dear {name},

you can now sign in to the office of {firm}.

Open {address} and give this email address; a letter with a link to choose your
password comes within a minute or two.
"""


@transaction.atomic
def add_person(
    *,
    name: str,
    email: str,
    phone: str,
    role: str,
    crew: Crew | None,
    firm_name: str,
    by: Person,
    now: datetime,
) -> Person:
    """Bring somebody in; a letter tells them how to choose a password."""
    if not may.run_the_firm(by):
        raise Refused(ONLY_THE_OWNER)
    _check_role(role, crew)
    try:
        with transaction.atomic():
            person = Person.objects.create_user(
                email, name=name, phone=phone, role=role, crew=crew
            )
    except IntegrityError:
        raise Refused(KNOWN_ADDRESS, "email") from None
    address = settings.FIRM_ADDRESS + reverse("account_reset_password")
    leave_notice(
        key=f"welcome:{person.pk}",
        kind="welcome",
        to_name=name,
        to_address=person.email,
        subject=f"Signing in to the office of {firm_name}",
        text=WELCOME.format(name=name, firm=firm_name, address=address),
        about=("person", person.pk),
        due_at=now,
        now=now,
    )
    _tell(person, "person-added", f"{name} works here as {_role(person)}.", by, now)
    return person


@transaction.atomic
def change_person(
    person_id: int,
    *,
    name: str,
    phone: str,
    role: str,
    crew: Crew | None,
    by: Person,
    now: datetime,
) -> Person:
    """Change a person's name, number, role or crew."""
    if not may.run_the_firm(by):
        raise Refused(ONLY_THE_OWNER)
    _check_role(role, crew)
    person = Person.objects.select_for_update().get(pk=person_id)
    if person.role == Person.Role.OWNER and role != Person.Role.OWNER:
        _keep_an_owner(person)
    person.name, person.phone, person.role, person.crew = name, phone, role, crew
    person.save(update_fields=["name", "phone", "role", "crew"])
    where = f" in {crew}" if crew else ""
    _tell(person, "person-changed", f"{name} is {_role(person)}{where}.", by, now)
    return person


@transaction.atomic
def show_out(person_id: int, *, by: Person, now: datetime) -> None:
    """End a person's access at once, on every device."""
    if not may.run_the_firm(by):
        raise Refused(ONLY_THE_OWNER)
    person = Person.objects.select_for_update().get(pk=person_id)
    if person.pk == by.pk:
        raise Refused("You cannot show yourself out. Another owner can.")
    _keep_an_owner(person)
    Person.objects.filter(pk=person_id).update(is_active=False)
    for session in UserSession.objects.filter(user_id=person_id):
        session.end()
    _tell(person, "person-left", f"{person.name} no longer works here.", by, now)


@transaction.atomic
def let_back_in(person_id: int, *, by: Person, now: datetime) -> None:
    """Let somebody who had left sign in again."""
    if not may.run_the_firm(by):
        raise Refused(ONLY_THE_OWNER)
    gone = Person.objects.filter(pk=person_id, is_active=False)
    if not gone.exclude(role=Person.Role.CLOCK).update(is_active=True):
        raise Refused("That person can sign in already.")
    person = Person.objects.get(pk=person_id)
    _tell(person, "person-back", f"{person.name} works here again.", by, now)


def _check_role(role: str, crew: Crew | None) -> None:
    if role not in Person.Role.values or role == Person.Role.CLOCK:
        raise Refused("Pick one of the roles.", "role")
    on_the_tools = role in {Person.Role.CREW_LEAD, Person.Role.CREW}
    if on_the_tools and crew is None:
        raise Refused("Say which crew they go out with.", "crew")
    if crew is not None and not on_the_tools:
        raise Refused("Only people on the tools belong to a crew.", "crew")


def _keep_an_owner(person: Person) -> None:
    others = Person.objects.filter(role=Person.Role.OWNER, is_active=True)
    if person.role == Person.Role.OWNER and not others.exclude(pk=person.pk).exists():
        raise Refused("The firm needs at least one owner who can sign in.")


def _role(person: Person) -> str:
    return Person.Role(person.role).label.lower()


def _tell(person: Person, event: str, words: str, by: Person, now: datetime) -> None:
    about = ("person", person.pk)
    history.write(about=about, event=event, words=words, now=now, by=by)
