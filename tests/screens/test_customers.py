import pytest

from jobs.models import Customer
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def office():
    make.firm()
    return signed_in(make.office())


def typed(**changes):
    usual = {"name": "Rosa Reed", "phone": "07700 900123", "kind": "home"}
    return usual | changes


def test_a_customer_shows_their_jobs_and_how_to_reach_them(office):
    job = make.job()
    words = words_of(office.get(f"/customers/{job.customer_id}/"))
    assert "07700 900123" in words
    assert "Skim two bedrooms" in words
    assert "They ring again" in words


def test_the_list_is_searched_by_postcode_and_phone(office):
    make.customer()
    make.customer("Mo Ash", phone="+441632960222", postcode="ZZ9 9ZZ")
    assert "Mo Ash" not in words_of(office.get("/customers/?q=zz1+2ab"))
    assert "Mo Ash" in words_of(office.get("/customers/?q=01632+960222"))
    assert "Nobody in the book" in words_of(office.get("/customers/?q=nobody"))


def test_an_edit_is_saved_and_shown(office):
    customer = make.customer()
    url = f"/customers/{customer.pk}/edit/"
    assert 'value="07700 900123"' in words_of(office.get(url))
    answer = office.post(url, typed(phone="01632 960555"))
    assert (answer.status_code, answer["Location"]) == (
        303,
        f"/customers/{customer.pk}/",
    )
    assert Customer.objects.get().phone == "+441632960555"


def test_a_bad_edit_keeps_the_typing_and_saves_nothing(office):
    customer = make.customer()
    answer = office.post(
        f"/customers/{customer.pk}/edit/", typed(name="New name", email="not one")
    )
    assert answer.status_code == 422
    assert "Give an email address like name@example.com." in words_of(answer)
    assert 'value="New name"' in words_of(answer)
    assert Customer.objects.get().name == "Rosa Reed"


def test_the_bookkeeper_reads_and_changes_nothing():
    make.firm()
    customer, books = make.customer(), signed_in(make.bookkeeper())
    words = words_of(books.get(f"/customers/{customer.pk}/"))
    assert "Rosa Reed" in words
    assert "They ring again" not in words
    assert books.post(f"/customers/{customer.pk}/edit/", typed()).status_code == 404


@pytest.mark.parametrize("role", ["lead", "crew"])
@pytest.mark.parametrize(
    "url", ["/customers/", "/customers/{}/", "/customers/{}/edit/"]
)
def test_the_tools_never_see_customers(role, url):
    customer = make.customer()
    answer = signed_in(make.person(role)).get(url.format(customer.pk))
    assert answer.status_code == 404
    assert "Rosa" not in words_of(answer)


def test_an_id_from_nowhere_is_not_found(office):
    assert office.get("/customers/99999999999999999999/").status_code == 404


def test_the_list_asks_few_questions(office, django_assert_max_num_queries):
    for number in range(20):
        make.customer(f"Caller {number}", phone=f"+4416329605{number:02}")
    with django_assert_max_num_queries(6):
        assert "Caller 19" in words_of(office.get("/customers/"))
