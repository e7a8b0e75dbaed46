import pytest

from firm.desk.found import find
from quotes.models import Quote
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    "words",
    ["reed", "07700 900123", "900123", "zz1 2ab", "zz12", "larch", "1", "job 1"],
)
def test_a_job_is_found_by_any_of_its_words(words):
    job = make.job()
    make.job(
        of=make.customer(
            "Mo Ash", phone="+441632960222", postcode="ZZ9 9ZZ", address="2 Ash Lane"
        )
    )
    assert find(make.office(), words).jobs == [job]


def test_a_customer_is_found_once_however_many_places_match():
    customer = make.customer()
    make.site(customer)
    make.site(customer)
    assert find(make.office(), "zz1 2ab").customers == [customer]


def test_papers_are_found_by_number():
    quote = Quote.objects.create(job=make.job("quoted"), number=4711)
    assert find(make.office(), "4711").quotes == [quote]
    assert find(make.office(), "Quote 4711").quotes == [quote]
    assert find(make.office(), "471").quotes == []


@pytest.mark.parametrize("words", ["", "   ", "nobody", "%", "_", "9" * 30, "'; drop"])
def test_words_that_mean_nothing_find_nothing(words):
    make.job()
    assert find(make.office(), words).is_nothing


@pytest.mark.parametrize("role", ["lead", "crew"])
def test_the_tools_find_nothing(role):
    Quote.objects.create(job=make.job("quoted"), number=4711)
    for words in ["reed", "4711", "07700 900123"]:
        assert find(make.person(role), words).is_nothing


def test_the_page_shows_what_was_found_and_refuses_a_book():
    make.firm()
    make.job()
    office = signed_in(make.office())
    assert "Skim two bedrooms" in words_of(office.get("/search/?q=reed"))
    assert "Nothing matches" in words_of(office.get("/search/?q=nobody"))
    assert office.get("/search/").status_code == 200
    assert office.get("/search/?q=" + "x" * 201).status_code == 400
