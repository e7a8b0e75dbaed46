import pytest

from jobs.models import Visit
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def office():
    make.firm()
    make.owner()
    return signed_in(make.office())


def url_of(job):
    return f"/jobs/{job.pk}/visit/"


def typed(**changes):
    usual = {
        "visit_person": make.owner().pk,
        "visit": "other",
        "visit_on": f"{make.tomorrow():%Y-%m-%d}",
        "visit_at": "11:00",
    }
    return usual | changes


def test_a_visit_is_booked_from_the_offer(office):
    job = make.job()
    moment = office.get(url_of(job)).context["form"].fields["visit"].choices[0][0]
    answer = office.post(url_of(job), typed(visit=moment, visit_on="", visit_at=""))
    assert (answer.status_code, answer["Location"]) == (303, f"/jobs/{job.pk}/")
    assert f"{Visit.objects.get().on}" == moment.split()[0]


def test_the_same_page_moves_a_visit(office):
    job = make.job()
    office.post(url_of(job), typed())
    assert "Move the visit" in words_of(office.get(url_of(job)))
    office.post(url_of(job), typed(visit_at="13:00"))
    standing = Visit.objects.standing().get()
    assert (standing.at.hour, Visit.objects.count()) == (13, 2)


def test_no_time_at_all_is_asked_for_one(office):
    job = make.job()
    answer = office.post(url_of(job), typed(visit="", visit_on="", visit_at=""))
    assert answer.status_code == 422
    assert "Pick one of the times, or give another." in words_of(answer)
    assert not Visit.objects.exists()


def test_a_taken_time_keeps_the_typing(office):
    make.visit(on=make.tomorrow(), at=make.AT_ELEVEN)
    job = make.job(of=make.customer("Mo Ash", phone="+441632960222"))
    answer = office.post(url_of(job), typed())
    assert answer.status_code == 422
    assert "Olive has another visit" in words_of(answer)
    assert f'value="{make.tomorrow():%Y-%m-%d}"' in words_of(answer)
    assert Visit.objects.count() == 1


def test_a_visit_is_called_off_with_one_press(office):
    visit = make.visit(on=make.tomorrow())
    answer = office.post(f"/visits/{visit.pk}/off/")
    assert answer["Location"] == f"/jobs/{visit.job_id}/"
    assert Visit.objects.get().state == "off"
    assert office.post(f"/visits/{visit.pk}/off/").status_code == 404


def test_a_visit_to_come_was_not_made_and_the_page_says_so(office):
    visit = make.visit(on=make.tomorrow())
    answer = office.post(f"/visits/{visit.pk}/made/")
    assert "Move it to the day it was made." in words_of(office.get(answer["Location"]))
    assert Visit.objects.get().state == "booked"


@pytest.mark.parametrize("role", ["lead", "crew", "books"])
def test_nobody_else_books_or_calls_off(role):
    visit = make.visit()
    person = signed_in(make.person(role))
    assert person.get(url_of(visit.job)).status_code == 404
    assert person.post(url_of(visit.job), typed()).status_code == 404
    assert person.post(f"/visits/{visit.pk}/off/").status_code == 404
    assert person.post(f"/visits/{visit.pk}/made/").status_code == 404
    assert Visit.objects.get().state == "booked"
