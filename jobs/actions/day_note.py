from datetime import datetime

from django.db import transaction

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.models import DayNote
from jobs.queries.tomorrow import sheet_job

LONGEST = 2000


@transaction.atomic
def write_note(job_id: int, *, words: str, by: Person, now: datetime) -> DayNote:
    """Write down what somebody saw or was told on a job."""
    words = words.strip()
    if not may.write_day_notes(by) or sheet_job(by, job_id, now=now) is None:
        raise Refused("Only the office and the crew on this job can write a note.")
    if not words:
        raise Refused("Write a few words first.", "words")
    if len(words) > LONGEST:
        raise Refused(
            f"This note has {len(words)} letters. Keep it under {LONGEST}.", "words"
        )
    note = DayNote.objects.create(job_id=job_id, by=by, at=now, words=words)
    history.write(
        about=("job", job_id),
        event="day-note",
        words="A day note was written.",
        now=now,
        by=by,
    )
    return note
