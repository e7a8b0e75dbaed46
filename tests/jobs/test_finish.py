"""Whoever washed the last trowel says so; the office may take it back that day."""

from datetime import timedelta

import pytest

from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice
from jobs.actions.evening import evening_round
from jobs.actions.finish import finish_job, undo_finish
from jobs.models import Job
from jobs.queries.tomorrow import finished_since, not_finished_past
from tests import make
from tests.making import diary

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    make.firm()
    return diary.booked_job(make.TODAY, 4)


def finish(job: Job, by) -> Job:
    finish_job(job.pk, by=by, now=make.NOW)
    job.refresh_from_db()
    return job


def test_the_crew_lead_on_the_job_finishes_it(job):
    finish(job, make.lead(crew=make.crew()))
    assert (job.stage, job.finished_on) == ("done", make.TODAY)
    assert HistoryLine.objects.get(event="finished").words == (
        "Finished on 4 March 2026."
    )
    assert list(finished_since(make.TODAY)) == [job]


def test_the_office_finishes_any_job(job):
    assert finish(job, make.office()).stage == "done"


def test_a_lead_of_another_crew_does_not_see_the_job(job):
    with pytest.raises(Refused, match="crew on this job"):
        finish(job, make.lead(crew=make.crew("Red crew")))
    job.refresh_from_db()
    assert job.stage == "booked"


def test_the_mate_does_not_finish_a_job(job):
    with pytest.raises(Refused, match="Only the crew lead or the office"):
        finish(job, make.plasterer(crew=make.crew()))


def test_a_job_that_is_not_in_the_diary_has_no_end():
    with pytest.raises(Refused, match="not in the diary"):
        finish(diary.won_job(), make.office())


def test_a_job_is_finished_once(job):
    finish(job, make.office())
    with pytest.raises(Refused, match="not in the diary"):
        finish(job, make.office())


def test_letters_about_the_days_left_over_are_stopped(job):
    make.plasterer(crew=make.crew())
    evening_round(make.NOW)
    assert Notice.objects.get(kind="evening-crew").state == "waiting"
    finish(job, make.office())
    letter = Notice.objects.get(kind="evening-crew")
    assert (letter.state, letter.why) == ("stopped", "The job is finished.")


def test_the_office_takes_a_finish_back_on_the_same_day(job):
    finish(job, make.lead(crew=make.crew()))
    undo_finish(job.pk, by=make.office(), now=make.NOW)
    job.refresh_from_db()
    assert (job.stage, job.finished_on) == ("booked", None)
    assert HistoryLine.objects.filter(event="finish-undone").exists()


def test_a_finish_of_yesterday_stays(job):
    finish(job, make.office())
    with pytest.raises(Refused, match="on its own day only"):
        undo_finish(job.pk, by=make.office(), now=make.NOW + timedelta(days=1))


def test_the_crew_does_not_take_a_finish_back(job):
    lead = make.lead(crew=make.crew())
    finish(job, lead)
    with pytest.raises(Refused, match="Only the office"):
        undo_finish(job.pk, by=lead, now=make.NOW)


def test_a_job_past_its_days_is_asked_about(job):
    # Four half-days from Wednesday 4 March end on Thursday 5 March.
    assert list(not_finished_past(make.TODAY + timedelta(days=1))) == []
    assert list(not_finished_past(make.TODAY + timedelta(days=2))) == [job]


def test_days_not_needed_are_given_back_to_the_diary(job):
    finish(job, make.office())
    booking = job.bookings.get()
    assert booking.last_on == make.TODAY
    assert set(booking.halves.values_list("on", flat=True)) == {make.TODAY}
    other = diary.won_job()
    diary.booking(other, diary.run_of(diary.Half(diary.MONDAY, "am"), 2, diary.DAYS))


def test_a_finish_before_the_first_day_frees_it_all_and_undone_waits_for_days():
    make.firm()
    ahead = diary.booked_job(diary.MONDAY, 2)
    finish(ahead, make.office())
    assert ahead.bookings.get().state == "off"
    undo_finish(ahead.pk, by=make.office(), now=make.NOW)
    ahead.refresh_from_db()
    assert ahead.stage == "won"
