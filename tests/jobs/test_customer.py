from dataclasses import replace

import pytest

from firm.engine.refusal import Refused
from firm.models import HistoryLine
from jobs.actions.customer import CustomerFacts, edit_customer
from jobs.models import Customer
from jobs.queries import customer as queries
from tests import make

pytestmark = pytest.mark.django_db

ROSA = CustomerFacts(name="Rosa Reed", phone="07700 900123", email="r@example.com")


def edit(customer, facts, by=None):
    edit_customer(customer.pk, facts, by=by or make.office(), now=make.NOW)


def names(known):
    return [(one.customer.name, one.is_same) for one in known]


def test_an_edit_keeps_shapes_and_says_what_changed():
    customer = make.customer()
    edit(customer, replace(ROSA, postcode="zz92ab", address=customer.address))
    customer.refresh_from_db()
    assert (customer.postcode, customer.postcode_key) == ("ZZ9 2AB", "ZZ92AB")
    assert HistoryLine.objects.get().words == "Changed: email, postcode."


def test_an_edit_that_changes_nothing_leaves_no_line():
    customer = make.customer(address="", postcode="")
    edit(customer, replace(ROSA, email="rosa@example.com"))
    assert not HistoryLine.objects.exists()


def test_nobody_is_renamed_into_somebody_else():
    make.customer()
    other = make.customer("Mo Ash", phone="+441632960222")
    with pytest.raises(Refused, match="in the book already"):
        edit(other, ROSA)
    assert Customer.objects.get(pk=other.pk).name == "Mo Ash"


def test_a_customer_can_always_be_reached():
    with pytest.raises(Refused, match="phone number or an email"):
        edit(make.customer(), replace(ROSA, phone="", email=""))


@pytest.mark.parametrize("role", ["lead", "crew", "books", "clock"])
def test_only_the_desk_edits_customers(role):
    with pytest.raises(Refused, match="Only the office"):
        edit(make.customer(), ROSA, by=make.person(role))


@pytest.mark.parametrize(
    "typed",
    [
        {"name": "ree"},
        {"phone": "07700 900"},
        {"phone": "+44 7700 900"},
        {"postcode": "zz1 2"},
    ],
)
def test_somebody_is_found_while_typing(typed):
    make.customer()
    make.customer("Mo Ash", phone="+441632960222", postcode="ZZ9 9ZZ")
    asked = {"name": "", "phone": "", "postcode": ""} | typed
    assert names(queries.suggested(make.office(), **asked)) == [("Rosa Reed", False)]


def test_the_same_number_is_the_same_person():
    make.customer()
    found = queries.suggested(make.office(), "Someone", "07700-900123", "")
    assert names(found) == [("Rosa Reed", True)]


def test_a_letter_or_two_finds_nobody():
    make.customer()
    assert queries.suggested(make.office(), "Ro", "077", "Z") == []


def test_nobody_on_the_tools_is_told_who_is_in_the_book():
    make.customer()
    assert queries.suggested(make.plasterer(), "Rosa", "", "") == []


def test_customers_are_listed_a_page_at_a_time():
    for number, name in enumerate(["ash", "Birch", "Cedar", "elm", "Fir"]):
        make.customer(name, phone=f"+44163296030{number}")
    seen, after = [], ""
    while True:
        rows, after = queries.customer_list(make.office(), "", after, 2)
        seen += [row.name for row in rows]
        if not after:
            break
    assert seen == ["ash", "Birch", "Cedar", "elm", "Fir"]


def test_a_page_key_made_up_by_hand_is_harmless():
    make.customer()
    for after in ["~", "x~y", "~99999999999999999999", "zz~1"]:
        queries.customer_list(make.office(), "", after, 2)
