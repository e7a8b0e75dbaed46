from datetime import date, timedelta

import pytest

from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice
from jobs.actions import job as moves
from jobs.models import Job, Visit
from tests import make

pytestmark = pytest.mark.django_db
BY_LINK = {"by": None, "by_words": "the customer, by link"}


def stage_of(job):
    return Job.objects.get(pk=job.pk).stage


def events_of(job):
    lines = HistoryLine.objects.about("job", job.pk).order_by("pk")
    return list(lines.values_list("event", flat=True))


def test_a_job_walks_from_the_call_to_the_finished_wall():
    job, office = make.job(), make.office()
    moves.mark_looked_at(job.pk, by=office, now=make.NOW)
    moves.mark_quoted(job.pk, by=office, now=make.NOW)
    moves.mark_won(job.pk, now=make.NOW, **BY_LINK)
    moves.mark_booked(job.pk, by=office, now=make.NOW)
    moves.mark_finished(job.pk, on=make.TODAY, by=make.lead(), now=make.NOW)
    assert stage_of(job) == "done"
    assert events_of(job) == ["looked-at", "quoted", "won", "booked", "finished"]
    won = HistoryLine.objects.get(event="won")
    assert (won.by, won.by_words) == (None, "the customer, by link")


def test_a_second_look_or_version_is_no_news():
    job, office = make.job("quoted"), make.office()
    moves.mark_looked_at(job.pk, by=office, now=make.NOW)
    moves.mark_quoted(job.pk, by=office, now=make.NOW)
    assert stage_of(job) == "quoted"
    assert events_of(job) == []


def test_a_second_yes_is_refused_in_words():
    job = make.job("quoted")
    moves.mark_won(job.pk, now=make.NOW, **BY_LINK)
    with pytest.raises(Refused, match="stands at “said yes”"):
        moves.mark_won(job.pk, now=make.NOW, **BY_LINK)
    assert events_of(job) == ["won"]


def test_a_yes_before_the_look_is_refused():
    with pytest.raises(Refused, match="rang in"):
        moves.mark_won(make.job().pk, by=make.office(), now=make.NOW)


def test_nobody_at_all_cannot_say_yes():
    job = make.job("quoted")
    with pytest.raises(Refused, match="office"):
        moves.mark_won(job.pk, by=None, now=make.NOW)
    assert stage_of(job) == "quoted"


@pytest.mark.parametrize("role", ["lead", "crew", "books", "clock"])
def test_only_the_desk_may_close_a_job(role):
    job = make.job()
    with pytest.raises(Refused, match="office"):
        moves.mark_lost(job.pk, because="Too dear.", by=make.person(role), now=make.NOW)
    assert stage_of(job) == "enquiry"


def test_closing_a_job_calls_its_visit_off_and_stops_its_letters():
    visit = make.visit()
    job = visit.job
    letter = waiting_letter(job, about=("visit", visit.pk))
    quote = waiting_letter(job, about=("quote", 41), key="quote")
    kept = waiting_letter(make.job(), about=("job", 987654))
    moves.mark_lost(job.pk, because=" Too dear. ", by=make.office(), now=make.NOW)
    job.refresh_from_db()
    assert (job.stage, job.lost_because) == ("lost", "Too dear.")
    assert Visit.objects.get().state == "off"
    assert Notice.objects.get(pk=letter.pk).state == "stopped"
    assert Notice.objects.get(pk=quote.pk).why == "The job is not going ahead."
    assert Notice.objects.get(pk=kept.pk).state == "waiting"


def test_a_job_is_not_closed_without_a_reason():
    job = make.job()
    with pytest.raises(Refused, match="why") as refusal:
        moves.mark_lost(job.pk, because="  ", by=make.office(), now=make.NOW)
    assert refusal.value.field == "because"
    assert stage_of(job) == "enquiry"


def test_a_long_reason_is_kept_whole_in_the_history():
    job, reason = make.job(), "dear " * 60
    moves.mark_lost(job.pk, because=reason, now=make.NOW, **BY_LINK)
    job.refresh_from_db()
    assert (len(job.lost_because), job.lost_because[-1]) == (200, "…")
    assert reason.strip() in HistoryLine.objects.get(event="lost").words


def test_a_job_won_is_not_closed_behind_the_customers_back():
    job = make.job("won")
    with pytest.raises(Refused, match="said yes"):
        moves.mark_lost(job.pk, because="Dear.", by=make.office(), now=make.NOW)
    assert stage_of(job) == "won"


def test_a_closed_job_opens_as_far_along_as_it_was_seen():
    seen, unseen, office = make.job("lost"), make.job("lost"), make.office()
    make.visit(seen, state="done")
    moves.take_up_again(seen.pk, by=office, now=make.NOW)
    moves.take_up_again(unseen.pk, by=office, now=make.NOW)
    assert (stage_of(seen), stage_of(unseen)) == ("looked", "enquiry")


def test_a_job_cannot_be_finished_tomorrow():
    job = make.job("booked")
    with pytest.raises(Refused, match="still to come"):
        moves.mark_finished(
            job.pk,
            on=make.TODAY + timedelta(days=1),
            by=make.office(),
            now=make.NOW,
        )
    assert stage_of(job) == "booked"


def test_the_look_closes_the_visit_that_was_due():
    due = make.visit(on=make.TODAY)
    moves.mark_looked_at(due.job.pk, by=make.office(), now=make.NOW)
    assert Visit.objects.get(pk=due.pk).state == "done"
    assert stage_of(due.job) == "looked"


def test_a_look_before_its_day_leaves_nothing_to_visit():
    later = make.visit(on=date(2026, 3, 9))
    moves.mark_looked_at(later.job.pk, by=make.office(), now=make.NOW)
    assert Visit.objects.get(pk=later.pk).state == "done"


def waiting_letter(job, *, about, key="letter"):
    return Notice.objects.create(
        key=f"{key}-{job.pk}",
        kind="visit-confirmed",
        to_name="Rosa Reed",
        to_address="rosa@example.com",
        subject="Your visit",
        text="We are coming.",
        about_kind=about[0],
        about_id=about[1],
        job_id=job.pk,
        message_id=f"<{key}-{job.pk}@example.com>",
        made_at=make.NOW,
        due_at=make.NOW,
        next_try_at=make.NOW,
    )
