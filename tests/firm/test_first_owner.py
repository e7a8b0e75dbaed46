import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from firm.models import Person
from tests import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def typed(monkeypatch):
    """What is typed at the prompt, which a test has no keyboard for."""
    answers = ["lime putty and horsehair"]
    monkeypatch.setattr("getpass.getpass", lambda prompt: answers[0])
    return answers


def test_the_first_owner_can_sign_in(typed):
    call_command("first_owner", "Olive Trowell", "Olive@Example.com")
    owner = Person.objects.staff().get()
    assert (owner.email, owner.role) == ("olive@example.com", "owner")
    assert owner.check_password(typed[0])


def test_a_firm_with_people_takes_no_second_first_owner(typed):
    make.office()
    with pytest.raises(CommandError, match="people in this firm already"):
        call_command("first_owner", "Olive Trowell", "olive@example.com")
    assert Person.objects.staff().count() == 1


@pytest.mark.parametrize(
    ("email", "password", "words"),
    [("not an address", "lime putty and horsehair", "email"), ("a@b.cd", "x", "short")],
)
def test_a_bad_address_or_password_makes_nobody(typed, email, password, words):
    typed[0] = password
    with pytest.raises(CommandError, match=words):
        call_command("first_owner", "Olive", email)
    assert not Person.objects.staff().exists()
