"""A job moves from stage to stage, each move once and only from where it may."""

from datetime import date, datetime

from django.db import transaction
from django.utils.timezone import localdate

from firm import may
from firm.actions import history, tray
from firm.engine.refusal import Refused
from firm.models import Person
from firm.queries.tray import notices_for_job
from jobs.models import Job, Visit

Stage = Job.Stage
STILL_TALKING = (Stage.ENQUIRY, Stage.VISIT, Stage.LOOKED, Stage.QUOTED)
LONGEST_REASON = 200
SAID_YES = (Stage.WON, Stage.BOOKED)


@transaction.atomic
def mark_looked_at(job_id: int, *, by: Person, now: datetime) -> None:
    """Note that the walls have been seen; a second look is no news."""
    _check(may.look_at_jobs, by, "Only the office can say that a job was looked at.")
    # Whatever day it was booked for: there is nothing left to go and see.
    Visit.objects.standing().filter(job_id=job_id).update(state=Visit.State.DONE)
    if _is_at(job_id, Stage.LOOKED, Stage.QUOTED, *SAID_YES):
        return
    _move(job_id, Stage.LOOKED, (Stage.ENQUIRY, Stage.VISIT))
    _tell(job_id, "looked-at", "Looked at.", now=now, by=by)


@transaction.atomic
def mark_quoted(job_id: int, *, by: Person, now: datetime) -> None:
    """Note that a quote has gone out; a later version is no new stage."""
    _check(may.send_quotes, by, "Only the office can send a quote.")
    if _is_at(job_id, Stage.QUOTED):
        return
    _move(job_id, Stage.QUOTED, (Stage.ENQUIRY, Stage.VISIT, Stage.LOOKED))
    _tell(job_id, "quoted", "The quote went out.", now=now, by=by)


@transaction.atomic
def mark_won(
    job_id: int, *, by: Person | None, now: datetime, by_words: str = ""
) -> None:
    """Note the customer's yes, given by link or to somebody in the office."""
    _check(may.send_quotes, by, "Only the office can take a yes.", by_words)
    _move(job_id, Stage.WON, (Stage.LOOKED, Stage.QUOTED))
    _tell(job_id, "won", "The customer said yes.", now=now, by=by, by_words=by_words)


@transaction.atomic
def mark_booked(job_id: int, *, by: Person, now: datetime) -> None:
    """Note that a crew has been put on the job; another crew is no new stage."""
    _check(may.book_crews, by, "Only the office can book a crew.")
    if not _is_at(job_id, Stage.BOOKED):
        _move(job_id, Stage.BOOKED, (Stage.WON,))
        _tell(job_id, "booked", "In the diary.", now=now, by=by)


@transaction.atomic
def mark_not_booked(job_id: int, *, by: Person, now: datetime) -> None:
    """Note that the last booking was called off: won, and waiting for days."""
    _check(may.book_crews, by, "Only the office can call a booking off.")
    _move(job_id, Stage.WON, (Stage.BOOKED,))
    _tell(job_id, "not-booked", "Out of the diary again.", now=now, by=by)


@transaction.atomic
def mark_finished(job_id: int, *, on: date, by: Person, now: datetime) -> None:
    """Note the day on which the last trowel was washed."""
    _check(may.finish_jobs, by, "Only the crew lead or the office can finish a job.")
    if on > localdate(now):
        raise Refused("A job cannot be finished on a day still to come.", field="on")
    _move(job_id, Stage.DONE, SAID_YES, finished_on=on)
    _tell(job_id, "finished", f"Finished on {on:%-d %B %Y}.", now=now, by=by)


@transaction.atomic
def mark_lost(
    job_id: int,
    *,
    because: str,
    by: Person | None,
    now: datetime,
    by_words: str = "",
) -> None:
    """Close a job that is not going ahead, and stop the letters about it."""
    _check(may.take_enquiries, by, "Only the office can close a job.", by_words)
    because = because.strip()
    if not because:
        raise Refused("Say in a few words why it is not going ahead.", field="because")
    if _is_at(job_id, *SAID_YES):
        raise Refused(
            "This customer has said yes. Call the bookings off and settle the bill"
            " before the job is closed."
        )
    # A customer may write more than the column holds; the history keeps it all.
    short = because if len(because) <= LONGEST_REASON else f"{because[:199]}…"
    _move(job_id, Stage.LOST, STILL_TALKING, lost_because=short)
    Visit.objects.standing().filter(job_id=job_id).update(state=Visit.State.OFF)
    _stop_letters(job_id, now)
    _tell(
        job_id, "lost", f"Not going ahead: {because}", now=now, by=by, by_words=by_words
    )


@transaction.atomic
def take_up_again(job_id: int, *, by: Person, now: datetime) -> None:
    """Open a closed job again, as far along as its walls had been seen."""
    _check(may.take_enquiries, by, "Only the office can open a job again.")
    was_seen = Visit.objects.filter(job_id=job_id, state=Visit.State.DONE).exists()
    stage = Stage.LOOKED if was_seen else Stage.ENQUIRY
    _move(job_id, stage, (Stage.LOST,), lost_because="")
    _tell(job_id, "taken-up-again", "Taken up again.", now=now, by=by)


def _stop_letters(job_id: int, now: datetime) -> None:
    """Stop what waits to go: about the job, its visit, its quote."""
    waiting = notices_for_job(job_id).not_gone().order_by()
    for about in waiting.values_list("about_kind", "about_id").distinct():
        tray.stop_notices(about=about, because="The job is not going ahead.", now=now)


def _check(right: may.Right, by: Person | None, words: str, by_words: str = "") -> None:
    """Nobody signed in is a customer with a link, and the caller has to say so."""
    allowed = right(by) if by is not None else bool(by_words)
    if not allowed:
        raise Refused(words)


def _is_at(job_id: int, *stages: str) -> bool:
    return Job.objects.at_stage(*stages).filter(pk=job_id).exists()


def _move(
    job_id: int, to: Stage, allowed: tuple[Stage, ...], **columns: object
) -> None:
    jobs = Job.objects.filter(pk=job_id)
    if jobs.at_stage(*allowed).update(stage=to, **columns):
        return
    job = jobs.first()
    if job is None:
        raise Refused("There is no such job.")
    now_at, wanted = job.get_stage_display().lower(), Stage(to).label.lower()
    raise Refused(
        f"Job {job.number} stands at “{now_at}”, so it cannot become “{wanted}”."
        " Look at the job again: somebody may have moved it."
    )


def _tell(
    job_id: int,
    event: str,
    words: str,
    *,
    now: datetime,
    by: Person | None,
    by_words: str = "",
) -> None:
    about = ("job", job_id)
    history.write(
        about=about, event=event, words=words, now=now, by=by, by_words=by_words
    )
