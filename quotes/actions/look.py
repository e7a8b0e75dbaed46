"""Begin, correct and finish a look; the one place where its version moves on."""

from dataclasses import asdict, dataclass
from datetime import datetime

from django.db import IntegrityError, transaction
from django.db.models import F

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.actions import job as job_moves
from jobs.models import Job
from quotes.models import Look, Room
from quotes.queries.measured import measured_rooms, rooms_to_measure

ONLY_THE_OFFICE = "Only the office measures a job and says what is on its walls."
# The field by which a page knows that somebody else was quicker.
OVERTAKEN_FIELD = "version"
OVERTAKEN = (
    "Somebody else changed this look while you were typing. What you typed is still "
    "here, with what is saved beside it. Save again to put yours in its place."
)
STILL_OPEN = (Job.Stage.ENQUIRY, Job.Stage.VISIT, Job.Stage.LOOKED, Job.Stage.QUOTED)


@dataclass(frozen=True, slots=True, kw_only=True)
class LookFacts:
    """What is known of the building, and how its areas are counted."""

    building_year: int | None = None
    is_listed: bool = False
    basis: str = Look.Basis.FIRM
    sample: str = Look.Sample.NONE
    sample_report: str = ""
    note: str = ""


@transaction.atomic
def start_look(job_id: int, *, facts: LookFacts, by: Person, now: datetime) -> Look:
    """Open the sheet on which a job is measured."""
    check_may_change(job_id, by=by)
    check_sample(facts)
    try:
        with transaction.atomic():
            look = Look.objects.create(
                job_id=job_id, **asdict(facts), looked_by=by, looked_at=now
            )
    except IntegrityError as clash:
        raise Refused("The look at this job has been started already.") from clash
    write(job_id, event="look-started", words="Look started.", by=by, now=now)
    return look


@transaction.atomic
def change_look(
    job_id: int, *, facts: LookFacts, version: int, by: Person, now: datetime
) -> None:
    """Correct the year, the listing, the basis or the note."""
    check_sample(facts)
    look = next_version(job_id, version=version, by=by)
    Look.objects.filter(pk=look.pk).update(**asdict(facts))
    words = f"Look corrected: {facts_in_words(facts)}."
    write(job_id, event="look-changed", words=words, by=by, now=now)


@transaction.atomic
def finish_look(job_id: int, *, version: int, by: Person, now: datetime) -> None:
    """Say that everything has been measured, so that the job can be quoted."""
    next_version(job_id, version=version, by=by)
    rooms = measured_rooms(rooms_to_measure(job_id))
    if not rooms:
        raise Refused("There is no room in this look. Add a room first.")
    for room in rooms:
        if room.trouble:
            raise Refused(f"{room.trouble} Then finish the look.")
    words = f"Look finished: {', '.join(room.room.name for room in rooms)}."
    write(job_id, event="look-finished", words=words, by=by, now=now)
    job_moves.mark_looked_at(job_id, by=by, now=now)


def check_sample(facts: LookFacts) -> None:
    """A result without the laboratory's report is a rumour."""
    if facts.sample != Look.Sample.NONE and not facts.sample_report.strip():
        raise Refused(
            "Give the number of the laboratory's report, or say that nothing was"
            " sampled.",
            "sample_report",
        )


def next_version(job_id: int, *, version: int, by: Person) -> Look:
    """Check the right and the state, then claim the look against others' changes."""
    check_may_change(job_id, by=by)
    claimed = Look.objects.filter(job=job_id, version=version)
    if not claimed.update(version=F("version") + 1):
        if not Look.objects.filter(job=job_id).exists():
            raise Refused("The look at this job has not been started.")
        raise Refused(OVERTAKEN, OVERTAKEN_FIELD)
    return Look.objects.get(job=job_id)


def check_may_change(job_id: int, *, by: Person) -> None:
    if not may.look_at_jobs(by):
        raise Refused(ONLY_THE_OFFICE)
    stage = Job.objects.values_list("stage", flat=True).get(pk=job_id)
    if stage == Job.Stage.LOST:
        raise Refused("This job is not going ahead, so its look stays as it is.")
    if stage not in STILL_OPEN:
        raise Refused(
            "The customer has said yes to what was measured, so the look stays as it "
            "is. Note anything more as a note of the day."
        )


def write(job_id: int, *, event: str, words: str, by: Person, now: datetime) -> None:
    history.write(about=("job", job_id), event=event, words=words, by=by, now=now)


def room_of(look: Look, room_id: int) -> Room:
    room = look.rooms.filter(pk=room_id).first()
    if room is None:
        raise Refused("That room has been taken out of the look meanwhile.")
    return room


def facts_in_words(facts: LookFacts) -> str:
    year = f"building of {facts.building_year}" if facts.building_year else "no year"
    listed = "listed" if facts.is_listed else "not listed"
    sample = Look.Sample(facts.sample).label.lower()
    if facts.sample_report:
        sample = f"{sample} (report {facts.sample_report})"
    return f"{year}, {listed}, {sample}, {Look.Basis(facts.basis).label}"
