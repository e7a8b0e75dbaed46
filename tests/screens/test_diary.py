"""The diary and the When? page, as the office and as those who may not."""

from datetime import date

import pytest
import time_machine

from jobs.models import BookedHalf, Booking, Job
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db

# make.TODAY is Wednesday 4 March 2026.
MONDAY = date(2026, 3, 9)


@pytest.fixture(autouse=True)
def in_march():
    with time_machine.travel(make.NOW, tick=False):
        yield


@pytest.fixture
def office():
    make.firm()
    return signed_in(make.office())


def typed(**changes):
    usual = {"crew": make.crew().pk, "on": "2026-03-09", "half": "am"}
    return usual | changes


def test_the_diary_shows_blocks_tails_and_the_same_in_words(office):
    job = make.booked_job(MONDAY)
    make.other_trade(job, sure="unknown")
    page = office.get("/diary/")
    words = words_of(page)
    assert page.status_code == 200
    assert f'href="/jobs/{job.pk}/"' in words
    assert "hatch-wet-3" in words
    assert "Electrician: day not known" in words
    assert f"Blue crew, all day: job {job.number}, Skim two bedrooms" in words
    assert "3 of 30 half-days" in words


def test_the_diary_turns_to_the_week_asked_for(office):
    make.booked_job(date(2026, 4, 8))
    words = words_of(office.get("/diary/?on=2026-04-01&weeks=2"))
    assert "Wall chart from Mon 30 Mar 2026 to Sun 12 Apr 2026" in words
    assert "Bank holiday" in words


def test_an_odd_question_to_the_diary_gets_a_sentence_and_this_week(office):
    make.crew()
    page = office.get("/diary/?on=soon&weeks=99")
    words = words_of(page)
    assert page.status_code == 422
    assert "Give the day, for example 9/3/2027." in words
    assert "Show 2, 3, 4 or 6 weeks." in words
    assert "Wall chart from Mon 2 Mar 2026" in words


def test_a_diary_without_crews_says_so(office):
    assert "No crew works here yet" in words_of(office.get("/diary/"))


def test_the_bookkeeper_reads_the_diary_and_books_nothing(office):
    job = make.won_job()
    books = signed_in(make.bookkeeper())
    assert "When?" in words_of(office.get("/diary/"))
    assert "When?" not in words_of(books.get("/diary/"))
    assert books.get(f"/jobs/{job.pk}/when/").status_code == 404


@pytest.mark.parametrize("role", ["lead", "crew"])
def test_the_crew_has_no_diary_and_books_nothing(role):
    make.firm()
    job = make.won_job()
    crew = signed_in(make.person(role, crew=make.crew()))
    assert crew.get("/diary/").status_code == 404
    assert crew.post(f"/jobs/{job.pk}/when/", typed()).status_code == 404
    assert not Booking.objects.exists()


def test_when_offers_days_with_reasons(office):
    job = make.won_job()
    make.crew()
    make.other_trade(job, ready_on=MONDAY, phone="+447700900321", who="Sparks")
    words = words_of(office.get(f"/jobs/{job.pk}/when/"))
    assert "Tue 10 Mar morning to Wed 11 Mar morning" in words
    assert "The electrician is out on Mon 9 Mar." in words
    assert "Nothing before Tue 10 Mar morning" in words
    assert 'href="tel:+447700900321"' in words


def test_when_does_not_guess_and_takes_a_day_to_plan_as_if(office):
    job = make.won_job()
    make.crew()
    make.other_trade(job, sure="unknown")
    url = f"/jobs/{job.pk}/when/"
    assert "Nobody has said when the electrician" in words_of(office.get(url))
    words = words_of(office.get(f"{url}?as_if_on=2026-03-09"))
    assert "Tue 10 Mar morning to Wed 11 Mar morning" in words
    assert '<input type="hidden" name="as_if_on" value="2026-03-09">' in words
    bad = office.get(f"{url}?as_if_on=soon")
    assert bad.status_code == 422
    assert "Give the day" in words_of(bad)


def test_booking_goes_to_the_job_and_takes_the_days(office):
    job = make.won_job()
    answer = office.post(f"/jobs/{job.pk}/when/", typed())
    assert (answer.status_code, answer["Location"]) == (303, f"/jobs/{job.pk}/")
    assert BookedHalf.objects.count() == 3
    words = words_of(office.get(f"/jobs/{job.pk}/"))
    # 9.5 h in three halves end on Tuesday 10 March; five clear days: Monday 16 March.
    assert "Mist coat</strong> from <strong>Mon 16 Mar" in words
    assert "Mon 9 Mar morning to Tue 10 Mar morning" in words


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"crew": ""}, "Pick a crew."),
        ({"crew": "999"}, "That crew does not work here any more."),
        ({"on": "soon"}, "Give the day, for example 9/3/2027."),
        ({"half": "night"}, "Start in the morning or the afternoon."),
        ({"half": "pm"}, "a longer visit starts in the morning"),
        ({"on": "2026-03-07"}, "weekend or a bank holiday"),
    ],
)
def test_a_bad_booking_keeps_the_typing_and_saves_nothing(office, changes, words):
    job = make.won_job()
    answer = office.post(f"/jobs/{job.pk}/when/", typed(**changes))
    assert answer.status_code == 422
    assert words in words_of(answer)
    assert f'value="{typed(**changes)["on"]}"' in words_of(answer)
    assert Job.objects.get(pk=job.pk).stage == "won"
    assert not Booking.objects.exists()


def test_a_clash_is_told_on_the_page(office):
    first = make.booked_job(MONDAY)
    job = make.won_job()
    answer = office.post(f"/jobs/{job.pk}/when/", typed())
    assert answer.status_code == 422
    assert f"already on job {first.number}" in words_of(answer)


def test_a_booking_is_moved_and_an_old_page_is_refused(office):
    job = make.booked_job(MONDAY)
    url = f"/jobs/{job.pk}/when/"
    assert 'name="version" value="1"' in words_of(office.get(url))
    move = typed(on="2026-03-16", version="1")
    assert office.post(url, move).status_code == 303
    assert Booking.objects.get().first_on == date(2026, 3, 16)
    again = office.post(url, typed(version="1"))
    assert again.status_code == 422
    assert "Somebody has changed this booking meanwhile" in words_of(again)


def test_days_are_called_off_once(office):
    job = make.booked_job(MONDAY)
    booking = Booking.objects.get()
    url = f"/bookings/{booking.pk}/off/"
    office.post(url, {"version": "9"})
    told = words_of(office.get(f"/jobs/{job.pk}/"))
    assert "changed this booking meanwhile" in told
    assert office.post(url, {"version": "1"}).status_code == 303
    assert Job.objects.get(pk=job.pk).stage == "won"
    assert office.post(url, {"version": "2"}).status_code == 404
    assert signed_in(make.bookkeeper()).post(url).status_code == 404


def test_the_office_finishes_a_job_and_takes_it_back(office):
    job = make.booked_job(make.TODAY)
    office.post(f"/jobs/{job.pk}/finish/")
    assert Job.objects.get(pk=job.pk).stage == "done"
    assert "Not finished after all" in words_of(office.get(f"/jobs/{job.pk}/"))
    office.post(f"/jobs/{job.pk}/finish/undo/")
    assert Job.objects.get(pk=job.pk).stage == "booked"
