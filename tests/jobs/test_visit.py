from datetime import UTC, date, datetime, time, timedelta

import pytest

from firm.actions.tray import reason_to_stand_down
from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice
from jobs.actions import visit as actions
from jobs.models import Job, Visit
from jobs.queries import visit as queries
from tests import make

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def the_firm():
    make.firm()


def book(job, **changes):
    facts = make.visit_facts(**changes)
    return actions.book_visit(job.pk, facts, by=make.office(), now=make.NOW)


def letters(visit, kind="visit-tomorrow"):
    return Notice.objects.get(about_kind="visit", about_id=visit.pk, kind=kind)


def test_a_visit_is_booked_and_the_customer_told():
    job = make.job()
    visit = book(job)
    assert Job.objects.get(pk=job.pk).stage == "visit"
    assert letters(visit, "visit-confirmed").to_address == "rosa@example.com"
    line = HistoryLine.objects.get(event="visit-booked")
    assert line.words == "Visit booked: Olive Trowell on Mon 9 Mar at 9.30 am."


def test_a_visit_tomorrow_booked_after_five_has_no_reminder():
    evening = datetime(2026, 3, 4, 18, tzinfo=UTC)
    facts = make.visit_facts(on=date(2026, 3, 5))
    visit = actions.book_visit(make.job().pk, facts, by=make.office(), now=evening)
    kinds = Notice.objects.filter(about_id=visit.pk).values_list("kind", flat=True)
    assert list(kinds) == ["visit-confirmed"]


def test_the_reminder_stands_down_when_the_visit_moved():
    visit = book(make.job())
    reminder = letters(visit)
    assert reason_to_stand_down(reminder, make.NOW) is None
    moved = actions.move_visit(
        visit.pk, make.visit_facts(at=time(11)), by=make.office(), now=make.NOW
    )
    assert "moved or called off" in reason_to_stand_down(reminder, make.NOW)
    reminder.refresh_from_db()
    assert (reminder.state, reminder.why) == ("stopped", "The visit was moved.")
    assert "Your visit has moved" in letters(moved, "visit-confirmed").text
    assert letters(moved).state == "waiting"


def test_a_visit_called_off_frees_the_time_and_says_so():
    visit = book(make.job())
    actions.call_off_visit(visit.pk, by=make.office(), now=make.NOW)
    assert Job.objects.get(pk=visit.job_id).stage == "enquiry"
    assert letters(visit).state == "stopped"
    assert "called off" in letters(visit, "visit-off").text
    again = book(make.job(of=make.customer("Mo Ash", phone="+441632960222")))
    assert (again.on, again.at) == (visit.on, visit.at)


def test_the_reminder_stands_down_after_an_early_visit():
    visit = book(make.job(), on=make.TODAY, at=time(16))
    Visit.objects.update(state="done")
    notice = letters(visit, "visit-confirmed")
    assert reason_to_stand_down(notice, make.NOW) == "The visit has been made."


def test_two_visits_of_one_person_at_one_time_are_refused():
    book(make.job())
    other = make.job(of=make.customer("Mo Ash", phone="+441632960222"))
    with pytest.raises(Refused, match=r"another visit on Mon 9 Mar at 9\.30 am"):
        book(other)
    assert Visit.objects.count() == 1
    assert Job.objects.get(pk=other.pk).stage == "enquiry"


def test_a_job_has_one_standing_visit():
    job = make.job()
    book(job)
    with pytest.raises(Refused, match="booked already"):
        book(job, at=time(11))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"at": time(9, 45)}, "one of the visit times"),
        ({"on": date(2026, 3, 3)}, "gone by"),
        ({"on": make.TODAY, "at": time(8)}, "gone by"),
        ({"on": make.TODAY + timedelta(days=400)}, "year ahead"),
        ({"person_id": 0}, "goes to look at jobs"),
    ],
)
def test_a_time_that_cannot_be_is_refused(changes, words):
    with pytest.raises(Refused, match=words):
        book(make.job(), **changes)
    assert not Visit.objects.exists()


def test_nobody_on_the_tools_is_sent_to_look():
    with pytest.raises(Refused, match="goes to look"):
        book(make.job(), person_id=make.lead().pk)


@pytest.mark.parametrize("stage", ["done", "lost"])
def test_a_closed_job_gets_no_visit(stage):
    with pytest.raises(Refused, match="closed"):
        book(make.job(stage))


def test_a_visit_made_moves_the_job_on():
    visit = book(make.job(), on=make.TODAY, at=time(16))
    later = datetime(2026, 3, 4, 17, tzinfo=UTC)
    actions.mark_visit_done(visit.pk, by=make.office(), now=later)
    assert Job.objects.get(pk=visit.job_id).stage == "looked"
    with pytest.raises(Refused, match="already"):
        actions.call_off_visit(visit.pk, by=make.office(), now=later)


def test_a_visit_still_to_come_has_not_been_made():
    visit = book(make.job())
    with pytest.raises(Refused, match="Mon 9 Mar"):
        actions.mark_visit_done(visit.pk, by=make.office(), now=make.NOW)


@pytest.mark.parametrize("role", ["lead", "crew", "books"])
def test_only_the_desk_moves_visits(role):
    visit, person = book(make.job()), make.person(role)
    with pytest.raises(Refused, match="Only the office"):
        actions.call_off_visit(visit.pk, by=person, now=make.NOW)
    assert Visit.objects.get().state == "booked"


def test_times_are_offered_beside_the_visits_of_that_person():
    make.visit()
    found = queries.times_on_offer(make.owner(), "ZZ1", make.NOW)
    assert (found[0].on, found[0].at) == (make.MONDAY, time(8))
    assert found[0].reason == "before Rosa Reed's visit in the same district"
    free = queries.times_on_offer(make.office(), "ZZ1", make.NOW)
    assert free[0].reason == "a clear day"
