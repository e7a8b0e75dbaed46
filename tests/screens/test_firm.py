"""The firm's own pages: who we are, where customers pay, who works here."""

from decimal import Decimal

import pytest
from django.urls import reverse

from firm.models import Crew, FirmFigure, Notice, Payee, Person, TimeOff
from tests import make

pytestmark = pytest.mark.django_db
ACCOUNT = {
    "account_name": "Hawk and Trowel",
    "sort_code": "00-00-00",
    "account_number": "12345678",
}
NEW_MATE = {"name": "Mo Darby", "email": "mo@example.com", "phone": "", "role": "crew"}


@pytest.fixture
def owner(client):
    make.firm()
    client.force_login(make.owner())
    return client


def test_the_first_account_is_written_down(owner):
    assert owner.post(reverse("firm:payee"), ACCOUNT).status_code == 303
    assert str(Payee.objects.get()) == "Hawk and Trowel, ending 5678"


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("sort_code", "123456", "Give the sort code as 00-00-00."),
        ("account_number", "1234", "Give the account number as eight digits."),
    ],
)
def test_an_account_of_the_wrong_shape_is_asked_again(owner, field, typed, sentence):
    answer = owner.post(reverse("firm:payee"), ACCOUNT | {field: typed})
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert typed in answer.content.decode()
    assert not Payee.objects.exists()


def test_an_account_that_stands_is_not_changed_by_one_person(owner):
    owner.post(reverse("firm:payee"), ACCOUNT)
    changed = owner.post(reverse("firm:payee"), ACCOUNT | {"sort_code": "11-11-11"})
    assert changed.status_code == 422
    assert "second person" in changed.content.decode()
    assert Payee.objects.get().sort_code == "00-00-00"


def test_somebody_new_gets_a_letter_and_chooses_their_own_password(owner):
    crew = make.crew()
    answer = owner.post(reverse("firm:person-new"), NEW_MATE | {"crew": crew.pk})
    assert answer.status_code == 303
    mate = Person.objects.get(email="mo@example.com")
    assert not mate.has_usable_password()
    letter = Notice.objects.get(kind="welcome")
    assert reverse("account_reset_password") in letter.text


def test_a_mate_without_a_crew_is_asked_for_one(owner):
    answer = owner.post(reverse("firm:person-new"), NEW_MATE)
    assert answer.status_code == 422
    assert "Say which crew they go out with." in answer.content.decode()
    assert not Person.objects.filter(email="mo@example.com").exists()


def test_who_has_left_is_out_on_the_very_next_request(owner):
    mate = make.plasterer(crew=make.crew())
    theirs = type(owner)()
    theirs.force_login(mate)
    assert theirs.get(reverse("jobs:tomorrow")).status_code == 200
    owner.post(reverse("firm:person-out", args=[mate.pk]))
    assert theirs.get(reverse("jobs:tomorrow")).status_code == 302


def test_the_last_owner_cannot_leave_or_change_role(owner):
    me = make.owner()
    gone = owner.post(reverse("firm:person-out", args=[me.pk]))
    assert gone.status_code == 422
    asked = {"name": me.name, "phone": "", "role": "office", "crew": ""}
    changed = owner.post(reverse("firm:person", args=[me.pk]), asked)
    assert changed.status_code == 422
    assert "at least one owner" in changed.content.decode()


def test_two_crews_of_one_name_are_one_too_many(owner):
    make.crew("Lime crew")
    asked = {"name": "Lime crew", "plasterers": 1, "labourers": 1}
    answer = owner.post(reverse("firm:crew-new"), asked)
    assert answer.status_code == 422
    assert "There is a crew called Lime crew already." in answer.content.decode()
    assert Crew.objects.count() == 1


def test_days_off_that_end_before_they_start_are_asked_again(owner):
    asked = {"crew": make.crew().pk, "first_on": "2026-03-09", "last_on": "2026-03-06"}
    answer = owner.post(reverse("firm:time-off"), asked)
    assert answer.status_code == 422
    assert not TimeOff.objects.exists()


def test_the_firms_own_figure_stands_beside_the_trades(owner):
    figure = reverse("firm:figure", args=["SKW.plasterer"])
    owner.post(figure, {"value": "0.2", "reason": "Our walls are high."})
    assert FirmFigure.objects.get().value == Decimal("0.2")
    page = owner.get(reverse("firm:figures")).content.decode()
    assert "0.2000" in page
    assert "0.18" in page
    owner.post(figure, {"value": "", "reason": ""})
    assert not FirmFigure.objects.exists()


def test_the_crew_sees_nothing_of_the_firm(client):
    make.firm()
    client.force_login(make.plasterer(crew=make.crew()))
    for name in ("firm:firm", "firm:figures", "firm:payee", "firm:person-new"):
        assert client.get(reverse(name)).status_code == 404
