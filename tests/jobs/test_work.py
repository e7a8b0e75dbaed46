from decimal import Decimal

import pytest

from firm.engine.refusal import Refused
from jobs.actions.work import CautionFact, NeedFact, WorkFact, hand_down
from jobs.models import Job, JobCaution, MaterialNeed, WorkItem
from tests import make

pytestmark = pytest.mark.django_db

CEILING = WorkFact(
    room="Front bedroom",
    what="Ceiling: skim over painted plaster",
    layers="Bonding grip\nFinish, two passes",
    is_ceiling=True,
    area_m2=Decimal("12.400"),
    suction="low",
    plasterer_hours=Decimal("3.5"),
    labourer_hours=Decimal("1.5"),
    drying_days=5,
)
PAINT = CautionFact(
    code="lead",
    words="Paint older than 1992 may hold lead. Test before sanding.",
    authority="HSE",
)
FINISH = NeedFact(
    item_code="finish",
    item="Finish plaster",
    quantity=Decimal("62.000"),
    unit="kg",
    pack="25 kg bag",
    packs=3,
)


def hand(job, **changes):
    facts = {"items": [CEILING], "cautions": [PAINT], "needs": [FINISH]}
    hand_down(job.pk, **(facts | changes), by=make.office(), now=make.NOW)


def test_a_yes_writes_down_work_dangers_and_needs():
    job = make.job("quoted")
    wall = WorkFact(
        room="Front bedroom",
        what="Chimney wall: float and set",
        layers="Undercoat 11 mm\nFinish, two passes",
        area_m2=Decimal("6.250"),
        suction="high",
        plasterer_hours=Decimal(4),
        labourer_hours=Decimal(2),
        drying_days=16,
    )
    hand(job, items=[CEILING, wall])
    assert Job.objects.get(pk=job.pk).stage == "won"
    items = list(WorkItem.objects.values_list("position", "what", "drying_days"))
    assert items == [(1, CEILING.what, 5), (2, wall.what, 16)]
    assert JobCaution.objects.get().authority == "HSE"
    assert MaterialNeed.objects.get().packs == 3


def test_a_second_yes_hands_nothing_down_twice():
    job = make.job("quoted")
    hand(job)
    with pytest.raises(Refused):
        hand(job)
    assert WorkItem.objects.count() == 1


def test_a_refused_yes_leaves_nothing_behind():
    with pytest.raises(Refused):
        hand(make.job("lost"))
    assert not WorkItem.objects.exists()
    assert not MaterialNeed.objects.exists()
