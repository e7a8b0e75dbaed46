"""Give the crews the facts of an accepted quote, and never a price."""

from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from firm.models import Person
from jobs.actions import work
from quotes.models import QuoteVersion


@transaction.atomic
def hand_down(
    version: QuoteVersion, *, by: Person | None, by_words: str, now: datetime
) -> None:
    """Write down what the job needs to know, inside the customer's yes."""
    shot = version.snapshot
    work.hand_down(
        version.quote.job_id,
        items=[_work(item) for item in shot["hand_down"]["items"]],
        cautions=[work.CautionFact(**caution) for caution in shot["cautions"]],
        needs=[_need(need) for need in shot["hand_down"]["needs"]],
        by=by,
        by_words=by_words,
        now=now,
    )


def _work(item: dict[str, Any]) -> work.WorkFact:
    return work.WorkFact(
        room=item["room"],
        what=item["what"],
        layers="\n".join(item["layers"]),
        area_m2=Decimal(item["area_m2"]),
        suction=item["suction"],
        plasterer_hours=Decimal(item["plasterer_hours"]),
        labourer_hours=Decimal(item["labourer_hours"]),
        drying_days=item["drying_days"],
        is_ceiling=item["is_ceiling"],
        drawing=item["drawing"],
        drawing_words=item["drawing_words"],
    )


def _need(need: dict[str, Any]) -> work.NeedFact:
    return work.NeedFact(**need | {"quantity": Decimal(need["quantity"])})
