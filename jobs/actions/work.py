"""What the crews need to know of an accepted quote, handed down without a price."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from firm.models import Person
from jobs.actions import job
from jobs.models import JobCaution, MaterialNeed, WorkItem


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkFact:
    """One surface; its place in the order given is its place in the work."""

    room: str
    what: str
    layers: str
    area_m2: Decimal
    suction: str
    plasterer_hours: Decimal
    labourer_hours: Decimal
    drying_days: int
    is_ceiling: bool = False
    drawing: str = ""
    drawing_words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionFact:
    """A thing that can hurt somebody, and who decides about it."""

    code: str
    words: str
    authority: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedFact:
    """So many whole packs of one thing."""

    item_code: str
    item: str
    quantity: Decimal
    unit: str
    pack: str
    packs: int


@transaction.atomic
def hand_down(
    job_id: int,
    *,
    items: Sequence[WorkFact],
    cautions: Sequence[CautionFact],
    needs: Sequence[NeedFact],
    by: Person | None,
    now: datetime,
    by_words: str = "",
) -> None:
    """Mark the job as won and write down its work, its dangers and its needs."""
    job.mark_won(job_id, by=by, now=now, by_words=by_words)
    WorkItem.objects.bulk_create(
        WorkItem(job_id=job_id, position=position, **asdict(item))
        for position, item in enumerate(items, start=1)
    )
    JobCaution.objects.bulk_create(
        JobCaution(job_id=job_id, **asdict(caution)) for caution in cautions
    )
    MaterialNeed.objects.bulk_create(
        MaterialNeed(job_id=job_id, **asdict(need)) for need in needs
    )
