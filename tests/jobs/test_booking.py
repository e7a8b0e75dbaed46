"""A crew is put on a job, moved and called off; nobody is in two places."""

from datetime import date

import pytest

from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice
from jobs.actions.booking import (
    book_in,
    booking_stands,
    call_off_booking,
    move_booking,
)
from jobs.engine.slots import Half
from jobs.models import BookedHalf, Booking, Job
from tests import make
from tests.making import diary

pytestmark = pytest.mark.django_db

# make.TODAY is Wednesday 4 March 2026.
MONDAY, TUESDAY = date(2026, 3, 9), date(2026, 3, 10)


@pytest.fixture(autouse=True)
def the_firm():
    make.firm()


def book(job: Job, on: date = MONDAY, half: str = "am", **facts) -> Booking:
    facts.setdefault("crew_id", make.crew().pk)
    facts.setdefault("by", make.office())
    return book_in(job.pk, start=Half(on, half), now=make.NOW, **facts)


def halves(booking: Booking) -> list[str]:
    return [f"{row.on:%a} {row.half}" for row in booking.halves.all()]


def stage(job: Job) -> str:
    return Job.objects.get(pk=job.pk).stage


def test_booking_in_gives_the_half_days_and_moves_the_job_on():
    # 9.5 h of plastering: 9.5 + 2 x 0.25 = 10 h > 7.5 h and <= 11.25 h, 3 half-days.
    job = diary.won_job()
    booking = book(job)
    assert halves(booking) == ["Mon am", "Mon pm", "Tue am"]
    assert (booking.first_on, booking.last_on) == (MONDAY, TUESDAY)
    assert stage(job) == "booked"
    line = HistoryLine.objects.get(event="crew-booked")
    assert line.words == (
        "Blue crew booked for Mon 9 Mar morning to Tue 10 Mar morning."
    )


def test_the_customer_is_told_the_days_and_no_price():
    book(diary.won_job())
    letter = Notice.objects.get()
    assert letter.to_address == "rosa@example.com"
    assert letter.subject == "We are coming on Monday 9 March"
    assert "Mon 9 Mar morning to Tue 10 Mar morning. We start at 8 am." in letter.text
    assert "£" not in letter.text


def test_a_customer_without_an_email_gets_no_letter():
    of = make.customer("Ted Vale", phone="+447700900555", email="")
    book(diary.won_job(of=of))
    assert not Notice.objects.exists()


def test_a_visit_steps_over_the_weekend():
    booking = book(diary.won_job(), date(2026, 3, 6))
    assert halves(booking) == ["Fri am", "Fri pm", "Mon am"]


def test_a_half_day_that_is_given_away_is_refused_in_words():
    first = diary.won_job()
    book(first)
    with pytest.raises(Refused) as refusal:
        book(diary.won_job(), TUESDAY)
    assert str(refusal.value) == (
        f"Blue crew is already on job {first.number} Tue 10 Mar morning."
        " Pick another day or another crew."
    )
    assert BookedHalf.objects.count() == 3
    assert Booking.objects.count() == 1


def test_another_crew_takes_the_same_day():
    book(diary.won_job())
    other = book(diary.won_job(), crew_id=make.crew("Red crew").pk)
    assert halves(other) == ["Mon am", "Mon pm", "Tue am"]


@pytest.mark.parametrize(
    ("on", "half", "words"),
    [
        (date(2026, 3, 3), "am", "Tue 3 Mar has gone"),
        (date(2026, 3, 7), "am", "weekend or a bank holiday"),
        # GOV.UK: Good Friday 2026 is 3 April; the Monday after is one too.
        (date(2026, 4, 3), "am", "The next working day is Tue 7 Apr"),
        (MONDAY, "pm", "a longer visit starts in the morning"),
    ],
)
def test_a_start_that_cannot_be_is_refused(on, half, words):
    job = diary.won_job()
    with pytest.raises(Refused, match=words):
        book(job, on, half)
    assert stage(job) == "won"
    assert book(job)


def test_time_off_inside_the_run_is_refused():
    job = diary.won_job()
    diary.time_off(make.crew(), TUESDAY, reason="training")
    with pytest.raises(
        Refused, match=r"off from Tue 10 Mar to Tue 10 Mar \(training\)"
    ):
        book(job)
    assert book(job, date(2026, 3, 11))


def test_another_trade_must_be_out_first():
    job = diary.won_job()
    make.other_trade(job, ready_on=MONDAY)
    with pytest.raises(Refused, match="the first start is Tue 10 Mar morning"):
        book(job)
    assert book(job, TUESDAY)


def test_an_unknown_trade_stops_a_booking_until_a_day_is_assumed_aloud():
    job = diary.won_job()
    make.other_trade(job, sure="unknown")
    with pytest.raises(Refused, match="Nobody has said when the electrician"):
        book(job)
    book(job, as_if_on=date(2026, 3, 6))
    words = HistoryLine.objects.get(event="crew-booked").words
    assert words.endswith(
        "Planned as if the electrician is out on Fri 6 Mar; nobody said so."
    )


def test_a_job_without_hours_waits_for_its_quote():
    job = make.job("won")
    with pytest.raises(Refused, match="no hours yet"):
        book(job)


def test_a_job_is_not_booked_twice():
    job = diary.won_job()
    book(job)
    with pytest.raises(Refused, match="in the diary already"):
        book(job, date(2026, 3, 16))


def test_a_job_that_is_not_won_stays_out_of_the_diary():
    job = make.job("quoted")
    diary.work_item(job)
    with pytest.raises(Refused, match="“quote is out”"):
        book(job)
    assert not Booking.objects.exists()


def test_only_the_office_books():
    job = diary.won_job()
    with pytest.raises(Refused, match="Only the office"):
        book(job, by=make.lead())
    assert book(job, by=make.owner())


def test_a_move_gives_the_old_half_days_back():
    job = diary.won_job()
    booking = book(job)
    move(booking, TUESDAY)
    assert halves(booking) == ["Tue am", "Tue pm", "Wed am"]
    assert book(diary.won_job(), date(2026, 3, 5))
    words = HistoryLine.objects.get(event="booking-moved").words
    assert words == (
        "Moved from Blue crew, Mon 9 Mar morning to Tue 10 Mar morning"
        " to Blue crew, Tue 10 Mar morning to Wed 11 Mar morning."
    )


def move(booking: Booking, on: date, **facts) -> Booking:
    facts.setdefault("version", booking.version)
    facts.setdefault("crew_id", booking.crew_id)
    facts.setdefault("by", make.office())
    return move_booking(booking.pk, start=Half(on, "am"), now=make.NOW, **facts)


def test_a_move_from_an_old_page_is_refused():
    booking = book(diary.won_job())
    move(booking, TUESDAY)
    with pytest.raises(Refused, match="changed this booking meanwhile"):
        move(booking, date(2026, 3, 16), version=1)
    assert halves(booking) == ["Tue am", "Tue pm", "Wed am"]


def test_a_move_into_a_taken_half_day_leaves_everything_as_it_was():
    booking = book(diary.won_job())
    book(diary.won_job(), date(2026, 3, 11))
    with pytest.raises(Refused, match="already on job"):
        move(booking, TUESDAY)
    booking.refresh_from_db()
    assert halves(booking) == ["Mon am", "Mon pm", "Tue am"]
    assert booking.version == 1


def test_an_unsent_letter_gives_way_to_one_with_the_new_days():
    booking = book(diary.won_job())
    move(booking, TUESDAY)
    old, new = Notice.objects.order_by("pk")
    assert (old.state, old.why) == ("stopped", "The booking was moved.")
    assert (new.kind, new.state) == ("booked", "waiting")


def test_a_customer_who_was_told_hears_of_the_move():
    booking = book(diary.won_job())
    Notice.objects.update(state="sent", settled_at=make.NOW)
    move(booking, TUESDAY)
    assert Notice.objects.get(kind="moved").subject == "Your days with us have changed"


def test_calling_off_frees_the_days_and_stops_the_letter():
    job = diary.won_job()
    booking = book(job)
    call_off_booking(booking.pk, version=1, by=make.office(), now=make.NOW)
    assert stage(job) == "won"
    assert not BookedHalf.objects.exists()
    assert Notice.objects.get().state == "stopped"
    assert book(diary.won_job())


def test_a_customer_who_was_told_hears_that_it_is_off():
    booking = book(diary.won_job())
    Notice.objects.update(state="sent", settled_at=make.NOW)
    call_off_booking(booking.pk, version=1, by=make.office(), now=make.NOW)
    assert Notice.objects.get(kind="booking-off").state == "waiting"


def test_a_booking_is_called_off_once():
    booking = book(diary.won_job())
    call_off_booking(booking.pk, version=1, by=make.office(), now=make.NOW)
    with pytest.raises(Refused, match="called off already"):
        call_off_booking(booking.pk, version=2, by=make.office(), now=make.NOW)


def test_a_letter_stands_down_when_its_booking_has_moved_or_gone():
    book(diary.won_job())
    letter = Notice.objects.get()
    assert booking_stands(letter, make.NOW) is None
    Booking.objects.update(version=2)
    assert booking_stands(letter, make.NOW) == "The booking was moved."
    Booking.objects.update(state="off")
    assert booking_stands(letter, make.NOW) == "The booking was called off."
