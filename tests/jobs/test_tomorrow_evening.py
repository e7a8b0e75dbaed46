"""The evening round: once each, due at five, stood down when the day has moved."""

from datetime import UTC, date, datetime, timedelta

import pytest

from firm.models import Notice
from jobs.actions.booking import call_off_booking, move_booking
from jobs.actions.evening import evening_round, visit_stands
from jobs.actions.finish import finish_job
from jobs.engine.slots import Half
from tests import make
from tests.making import diary

pytestmark = pytest.mark.django_db

MONDAY = date(2026, 3, 9)
FRIDAY_NOON = datetime(2026, 3, 6, 12, 0, tzinfo=UTC)
# British time is Greenwich time until 29 March 2026.
FRIDAY_FIVE = datetime(2026, 3, 6, 17, 0, tzinfo=UTC)


@pytest.fixture
def job():
    make.firm()
    crew = make.crew()
    make.lead(crew=crew)
    make.plasterer(crew=crew)
    return diary.booked_job(MONDAY, crew=crew)


def letters() -> list[tuple[str, str]]:
    rows = Notice.objects.order_by("kind", "to_name")
    return list(rows.values_list("kind", "to_name"))


def test_on_friday_the_customer_and_the_crew_hear_of_monday(job):
    evening_round(FRIDAY_NOON)
    assert letters() == [
        ("evening-crew", "Len Floater"),
        ("evening-crew", "Mick Mixer"),
        ("evening-customer", "Rosa Reed"),
    ]
    assert set(Notice.objects.values_list("due_at", flat=True)) == {FRIDAY_FIVE}


def test_a_second_round_leaves_nothing_new(job):
    evening_round(FRIDAY_NOON)
    evening_round(FRIDAY_NOON + timedelta(minutes=1))
    assert len(letters()) == 3


def test_the_customer_hears_on_the_first_evening_only(job):
    # The visit is Monday and Tuesday morning; Monday's round is about Tuesday.
    evening_round(datetime(2026, 3, 9, 12, 0, tzinfo=UTC))
    assert letters() == [
        ("evening-crew", "Len Floater"),
        ("evening-crew", "Mick Mixer"),
    ]


def test_nothing_is_left_for_a_day_further_off(job):
    evening_round(datetime(2026, 3, 5, 12, 0, tzinfo=UTC))
    assert letters() == []


def test_a_night_on_which_nothing_ran_is_caught_up_before_eight(job):
    evening_round(datetime(2026, 3, 9, 6, 30, tzinfo=UTC))
    assert ("evening-customer", "Rosa Reed") in letters()
    Notice.objects.all().delete()
    evening_round(datetime(2026, 3, 9, 8, 0, tzinfo=UTC))
    assert ("evening-customer", "Rosa Reed") not in letters()


def test_after_easter_the_letter_is_due_on_the_thursday_before():
    # GOV.UK: Good Friday 3 April, Easter Monday 6 April 2026. Summer time by then.
    make.firm()
    diary.booked_job(date(2026, 4, 7))
    evening_round(datetime(2026, 4, 2, 9, 0, tzinfo=UTC))
    assert Notice.objects.get().due_at == datetime(2026, 4, 2, 16, 0, tzinfo=UTC)


def test_the_crews_letter_is_the_sheet_without_a_price(job):
    diary.caution(job)
    diary.need(job)
    make.other_trade(job, ready_on=date(2026, 3, 6))
    evening_round(FRIDAY_NOON)
    text = Notice.objects.filter(kind="evening-crew").first().text
    for words in (
        "Monday 9 March: Skim two bedrooms",
        "Start at 8 am.",
        "14 Larch Row",
        "Customer: Rosa Reed, 07700 900123",
        "CAUTION: Old textured coating: stop until it is tested.",
        "Front bedroom\n- Ceiling: skim over painted plaster, 12.40",
        "3 × 25 kg bag Finish plaster: Not ordered: bring it",
        "Electrician, before us: Fri 6 Mar (promised)",
    ):
        assert words in text
    assert "£" not in text
    assert "rosa@example.com" not in text


def test_the_letters_stand_down_when_the_booking_moves(job):
    evening_round(FRIDAY_NOON)
    letter = Notice.objects.get(kind="evening-customer")
    assert visit_stands(letter, FRIDAY_FIVE) is None
    booking = job.bookings.get()
    move_booking(
        booking.pk,
        version=1,
        crew_id=booking.crew_id,
        start=Half(date(2026, 3, 11), "am"),
        by=make.office(),
        now=FRIDAY_NOON,
    )
    letter.refresh_from_db()
    assert letter.state == "stopped"
    assert visit_stands(letter, FRIDAY_FIVE) == "The booking was moved."


def test_the_letters_stand_down_when_the_booking_is_off_or_done(job):
    evening_round(FRIDAY_NOON)
    letter = Notice.objects.get(kind="evening-customer")
    finish_job(job.pk, by=make.office(), now=FRIDAY_NOON)
    assert visit_stands(letter, FRIDAY_FIVE) == "The job is finished."
    other = diary.booked_job(MONDAY, crew=make.crew("Red crew"))
    evening_round(FRIDAY_NOON)
    letter = Notice.objects.get(about_id=other.bookings.get().pk)
    call_off_booking(
        other.bookings.get().pk, version=1, by=make.office(), now=FRIDAY_NOON
    )
    assert visit_stands(letter, FRIDAY_FIVE) == "The booking was called off."


def test_somebody_who_left_the_crew_gets_no_sheet(job):
    evening_round(FRIDAY_NOON)
    mick = make.plasterer()
    letter = Notice.objects.get(kind="evening-crew", to_name=mick.name)
    mick.crew = make.crew("Red crew")
    mick.save()
    assert visit_stands(letter, FRIDAY_FIVE) == (
        "Mick Mixer is not in that crew any more."
    )
