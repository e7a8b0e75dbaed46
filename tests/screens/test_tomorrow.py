"""The crew's pages: what they show, to whom, and that no price is ever on them."""

from datetime import date

import pytest
import time_machine

from jobs.models import DayNote, Job
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db

# make.TODAY is Wednesday 4 March 2026.
TOMORROW = date(2026, 3, 5)
DRAWING = "<svg viewBox='0 0 10 10'><rect width='10' height='10'/></svg>"


@pytest.fixture(autouse=True)
def in_march():
    with time_machine.travel(make.NOW, tick=False):
        yield


@pytest.fixture
def job():
    make.firm()
    of = make.customer(email="canary@example.com")
    at = make.site(of, way_in="Key under the pot", parking="Drive")
    made = make.booked_job(TOMORROW, at=at)
    make.work_item(made, room="Landing", drawing=DRAWING, drawing_words="A wall.")
    make.caution(made)
    make.need(made)
    make.other_trade(made, ready_on=make.TODAY)
    return made


@pytest.fixture
def mick(job):
    return signed_in(make.plasterer(crew=make.crew()))


def test_tomorrow_comes_first_with_the_start_and_the_place(mick, job):
    words = words_of(mick.get("/tomorrow/"))
    assert words.index("Tomorrow, ") < words.index("Today, ")
    assert "<strong>8 am</strong> all day" in words
    assert f'href="/tomorrow/{job.pk}/"' in words
    assert "14 Larch Row, ZZ1 2AB" in words


def test_the_sheet_holds_all_that_the_crew_needs(mick, job):
    words = words_of(mick.get(f"/tomorrow/{job.pk}/"))
    for piece in [
        'href="geo:0,0?q=14%20Larch%20Row%2C%20Sandford%2C%20ZZ1%202AB"',
        "Key under the pot",
        "Drive",
        "Rosa Reed",
        'href="tel:+447700900123"',
        "Landing",
        "Bonding grip",
        "12.40 m²",
        DRAWING,
        "A wall.",
        "Not ordered: bring it",
        "Old textured coating: stop until it is tested.",
        "Control of Asbestos Regulations 2012",
        "Electrician",
    ]:
        assert piece in words


def priced(job):
    """Put prices, bank figures and an email wherever the firm keeps them."""
    make.payee()
    merchant = make.merchant(email="canary@merchant.example.com")
    merchant.prices.create(item_code="M-FIN", pack="25 kg bag", price_gbp="91827.36")
    make.order(job, job.needs.all(), merchant=merchant)


@pytest.mark.parametrize("role", ["lead", "crew"])
def test_no_price_email_or_bank_figure_is_on_a_crews_page(job, role):
    priced(job)
    crew = signed_in(make.person(role, crew=make.crew()))
    for path in ("/tomorrow/", f"/tomorrow/{job.pk}/"):
        answer = crew.get(path)
        assert answer.status_code == 200
        for canary in ("£", "91827", "canary@", "sort code", "VAT", "margin"):
            assert canary not in words_of(answer)


def test_another_crew_and_a_far_day_are_not_found(job):
    stranger = signed_in(make.plasterer(crew=make.crew("Red crew")))
    assert stranger.get(f"/tomorrow/{job.pk}/").status_code == 404
    far = make.booked_job(date(2026, 3, 16), crew=make.crew("Red crew"))
    assert stranger.get(f"/tomorrow/{far.pk}/").status_code == 404
    post = stranger.post(f"/tomorrow/{job.pk}/note/", {"words": "Hello"})
    assert post.status_code == 404
    assert not DayNote.objects.exists()


def test_the_bookkeeper_has_no_crew_pages(job):
    books = signed_in(make.bookkeeper())
    assert books.get("/tomorrow/").status_code == 404
    assert books.get(f"/tomorrow/{job.pk}/").status_code == 404


def test_somebody_without_a_crew_is_told_to_ask():
    make.firm()
    alone = signed_in(make.plasterer())
    assert "You are not in a crew yet" in words_of(alone.get("/tomorrow/"))


def test_the_office_looks_at_any_crew(job):
    make.crew("Red crew")
    office = signed_in(make.office())
    words = words_of(office.get(f"/tomorrow/?crew={make.crew().pk}"))
    assert "14 Larch Row" in words
    assert "Red crew" in words


def test_a_note_is_kept_and_shown(mick, job):
    answer = mick.post(f"/tomorrow/{job.pk}/note/", {"words": "Sealer still wet."})
    assert answer["Location"] == f"/tomorrow/{job.pk}/"
    assert "Sealer still wet." in words_of(mick.get(f"/tomorrow/{job.pk}/"))
    office = signed_in(make.office())
    assert "Sealer still wet." in words_of(office.get(f"/jobs/{job.pk}/"))


def test_an_empty_note_gets_a_sentence(mick, job):
    answer = mick.post(f"/tomorrow/{job.pk}/note/", {"words": "  "})
    assert answer.status_code == 422
    assert "Write a few words first." in words_of(answer)


def test_a_note_too_long_keeps_the_typing(mick, job):
    answer = mick.post(f"/tomorrow/{job.pk}/note/", {"words": "wet " * 600})
    assert answer.status_code == 422
    assert "Keep the note under 2000 letters." in words_of(answer)
    assert "wet wet wet" in words_of(answer)
    assert not DayNote.objects.exists()


def test_the_lead_finishes_and_the_mate_has_no_such_button(mick, job):
    lead = signed_in(make.lead(crew=make.crew()))
    assert "This job is finished" in words_of(lead.get(f"/tomorrow/{job.pk}/"))
    assert "This job is finished" not in words_of(mick.get(f"/tomorrow/{job.pk}/"))
    assert mick.post(f"/jobs/{job.pk}/finish/").status_code == 404
    answer = lead.post(f"/jobs/{job.pk}/finish/")
    assert answer["Location"] == "/tomorrow/"
    assert Job.objects.get(pk=job.pk).stage == "done"


def test_a_sheet_asks_a_fixed_number_of_questions(
    mick, job, django_assert_max_num_queries
):
    for n in range(4):
        make.work_item(job, room=f"Room {n}")
        make.need(job, item_code=f"M-{n}")
    # Session and person 2, firm 1, window and job 1, booking and halves 2, work,
    # needs, cautions, trades and notes 5.
    with django_assert_max_num_queries(13):
        mick.get(f"/tomorrow/{job.pk}/")
