from urllib.parse import quote

import pytest

from firm.models import Notice
from jobs.models import Customer, Job, Visit
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db

URL = "/enquiries/new/"


@pytest.fixture
def office():
    make.firm()
    make.owner()
    return signed_in(make.office())


def typed(**changes):
    usual = {
        "name": "Rosa Reed",
        "phone": "07700 900123",
        "email": "rosa@example.com",
        "kind": "home",
        "address": "14 Larch Row\r\nSandford",
        "postcode": "zz1 2ab",
        "what": "Skim two bedrooms",
        "said": "Old paint.",
        "visit_person": make.owner().pk,
        "visit": "",
    }
    return usual | changes


def offered(page):
    """Return the first time on offer, as the form would send it."""
    field = page.context["form"].fields["visit"]
    return field.choices[1][0]


def test_the_form_offers_times_and_saves_the_call(office):
    page = office.get(URL)
    assert "No visit yet" in words_of(page)
    answer = office.post(URL, typed(visit=offered(page)))
    job = Job.objects.get()
    assert (answer.status_code, answer["Location"]) == (303, f"/jobs/{job.pk}/")
    assert job.stage == "visit"
    assert Visit.objects.get().person == make.owner()
    assert Notice.objects.filter(kind="visit-confirmed").count() == 1
    assert "Saved as job 1." in words_of(office.get(answer["Location"]))


def test_bad_typing_comes_back_with_sentences_and_saves_nothing(office):
    sent = typed(phone="07700 9001", postcode="nowhere", name="", said="Kept words.")
    answer = office.post(URL, sent)
    words = words_of(answer)
    assert answer.status_code == 422
    assert "“07700 9001” is not a UK phone number." in words
    assert "“nowhere” is not a UK postcode." in words
    assert "Kept words." in words
    assert "Give the customer&#x27;s name." in words
    assert "Error: The phone rings" in words
    assert not Customer.objects.exists()
    assert not Job.objects.exists()


def test_a_name_that_cannot_be_seen_is_refused_and_turning_marks_are_dropped(office):
    answer = office.post(URL, typed(name="Rosa\x07Reed"))
    assert answer.status_code == 422
    assert "cannot be seen" in words_of(answer)
    office.post(URL, typed(name="\u202eRosa Reed\u202c"))
    assert Customer.objects.get().name == "Rosa Reed"


def test_an_endless_paste_is_refused_with_its_length(office):
    answer = office.post(URL, typed(what="x" * 121))
    assert answer.status_code == 422
    assert "Keep this to 120 letters. It has 121." in words_of(answer)


def test_a_call_without_phone_or_email_is_asked_for_one(office):
    answer = office.post(URL, typed(phone="", email=""))
    assert answer.status_code == 422
    assert "Give a phone number or an email address." in words_of(answer)


def test_another_day_and_time_can_be_typed(office):
    sent = typed(visit="other", visit_on="2099-01-05", visit_at="09:30")
    answer = office.post(URL, sent)
    assert "more than a year ahead" in words_of(answer)
    answer = office.post(URL, typed(visit="other", visit_on="", visit_at=""))
    assert answer.status_code == 422
    assert "Give the day of the visit." in words_of(answer)
    assert "Give the time of the visit." in words_of(answer)
    assert not Job.objects.exists()


def test_a_time_taken_meanwhile_gets_a_sentence_and_keeps_the_typing(office):
    moment = offered(office.get(URL))
    office.post(URL, typed(visit=moment))
    second = typed(
        name="Mo Ash", phone="01632 960222", postcode="ZZ3 3CC", visit=moment
    )
    answer = office.post(URL, second)
    words = words_of(answer)
    assert answer.status_code == 422
    assert "Olive has another visit on" in words
    assert 'value="Mo Ash"' in words
    assert moment not in words
    assert Job.objects.count() == 1


def test_the_same_number_is_offered_before_a_second_is_written_down(office):
    make.customer()
    answer = office.post(URL, typed(name="R. Reed"))
    words = words_of(answer)
    assert answer.status_code == 422
    assert "Rosa Reed is in the book already." in words
    assert "This is them" in words
    assert 'name="somebody_else"' in words
    assert Customer.objects.count() == 1
    office.post(URL, typed(name="R. Reed", somebody_else="on"))
    assert Customer.objects.count() == 2


def test_choosing_somebody_fills_the_form_and_keeps_the_rest(office):
    customer = make.job().customer
    sent = typed(name="ros", phone="", address="", said="Hall too.", choose=customer.pk)
    page = office.post(URL, sent)
    words = words_of(page)
    assert page.status_code == 200
    assert 'value="07700 900123"' in words
    assert "14 Larch Row" in words
    assert "Hall too." in words
    assert Job.objects.count() == 1
    office.post(URL, typed(customer=customer.pk, what="Skim the hall"))
    assert Customer.objects.count() == 1
    assert Job.objects.get(what="Skim the hall").customer == customer


def test_a_customer_chosen_by_mistake_is_let_go(office):
    customer = make.customer()
    page = office.post(URL, typed(customer=customer.pk, forget="1", said="Kept."))
    assert page.context["known"] is None
    assert "Kept." in words_of(page)
    assert "Larch" not in words_of(page)
    assert "readonly" not in words_of(page)


def test_looking_up_works_without_script(office):
    make.customer()
    page = office.post(URL, typed(name="", phone="07700 900", look="1"))
    assert page.status_code == 200
    assert "This is them" in words_of(page)
    assert "There is a problem" not in words_of(page)


def test_known_customers_appear_while_typing(office):
    make.customer()
    answer = office.get(f"/customers/suggest/?name={quote('Rosa Re')}&phone=&postcode=")
    words = words_of(answer)
    assert "<strong>Rosa Reed</strong>, 07700 900123" in words
    assert "<html" not in words


def test_visit_times_follow_the_postcode(office):
    make.visit(on=make.tomorrow())
    near = words_of(office.get("/visits/times/?postcode=zz1+9zz"))
    assert "before Rosa Reed&#x27;s visit in the same district" in near
    assert "same district" not in words_of(
        office.get("/visits/times/?postcode=zz8+9zz")
    )


def test_the_list_shows_who_waits_and_for_how_long(office):
    make.job()
    make.job("looked", of=make.customer("Mo Ash", phone="+441632960222"))
    make.job("quoted", of=make.customer("Gone Out", phone="+441632960223"))
    words = words_of(office.get("/enquiries/"))
    assert "Rosa Reed" in words
    assert "Work the quote out" in words
    assert "Gone Out" not in words


@pytest.mark.parametrize("role", ["lead", "crew", "books"])
@pytest.mark.parametrize(
    "url", ["/enquiries/", URL, "/customers/suggest/?name=rosa", "/visits/times/"]
)
def test_nobody_else_may_take_calls(role, url):
    make.customer()
    assert signed_in(make.person(role)).get(url).status_code == 404


@pytest.mark.parametrize("role", ["lead", "crew", "books"])
def test_nobody_else_may_save_a_call(role):
    make.firm()
    answer = signed_in(make.person(role)).post(URL, typed())
    assert answer.status_code == 404
    assert not Job.objects.exists()


def test_the_list_asks_few_questions(office, django_assert_max_num_queries):
    for number in range(12):
        customer = make.customer(f"Caller {number}", phone=f"+4416329604{number:02}")
        make.visit(make.job("visit", of=customer), on=make.tomorrow(number + 1))
    with django_assert_max_num_queries(8):
        office.get("/enquiries/")
