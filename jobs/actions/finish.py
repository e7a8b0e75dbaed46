"""A job is finished, by the one who washed the last trowel; or not quite yet."""

from datetime import date, datetime

from django.db import transaction
from django.db.models import F
from django.utils.timezone import localdate

from firm import may
from firm.actions import history, tray
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.actions import job as stages
from jobs.models import Booking, Job
from jobs.queries.tomorrow import sheet_job


@transaction.atomic
def finish_job(job_id: int, *, by: Person, now: datetime) -> None:
    """Mark a job as done today; letters about days to come have no reason now."""
    if not may.finish_jobs(by):
        raise Refused("Only the crew lead or the office can finish a job.")
    job = sheet_job(by, job_id, now=now)
    if job is None:
        raise Refused("Only the crew on this job or the office can finish it.")
    if job.stage != Job.Stage.BOOKED:
        raise Refused(f"Job {job.number} is not in the diary, so it has no end.")
    stages.mark_finished(job_id, on=localdate(now), by=by, now=now)
    for booking in Booking.objects.standing().filter(job_id=job_id):
        tray.stop_notices(
            about=("booking", booking.pk), because="The job is finished.", now=now
        )
        _free_what_is_left(booking, after_on=localdate(now))


def _free_what_is_left(booking: Booking, *, after_on: date) -> None:
    """Give back the days that a crew did not need, for somebody who waits."""
    if not booking.halves.filter(on__gt=after_on).delete()[0]:
        return
    worked = booking.halves.order_by("-on").first()
    if worked is None:
        columns: dict[str, object] = {"state": Booking.State.OFF}
    else:
        columns = {"last_on": worked.on}
    Booking.objects.filter(pk=booking.pk).update(**columns, version=F("version") + 1)


@transaction.atomic
def undo_finish(job_id: int, *, by: Person, now: datetime) -> None:
    """Take a finish back on the day it was pressed; later it is a new visit."""
    if not may.book_crews(by):
        raise Refused("Only the office can take a finish back.")
    today = localdate(now)
    done = Job.objects.filter(pk=job_id, stage=Job.Stage.DONE, finished_on=today)
    is_booked = Booking.objects.standing().filter(job_id=job_id).exists()
    stage = Job.Stage.BOOKED if is_booked else Job.Stage.WON
    if not done.update(stage=stage, finished_on=None):
        raise Refused(
            "A finish can be taken back on its own day only. Book another visit."
        )
    history.write(
        about=("job", job_id),
        event="finish-undone",
        words="Not finished after all.",
        now=now,
        by=by,
    )
