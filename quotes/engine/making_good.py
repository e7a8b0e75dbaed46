"""Chases, patches and back boxes: work counted by the metre and by number.

The bands for patches (0.25 m² and 1.00 m², inclusive) are common practice among small
firms and no published rule: small ones and middling ones by number, the rest by area.
"""

from decimal import Decimal

from firm.engine.lengths import area_m2, check_length, figure, in_metres, metres
from firm.engine.refusal import Refused
from quotes.engine.measurement_values import Chase, MakingGood, Measurement, Patch

SMALL_PATCH_MM2 = 250_000
MIDDLING_PATCH_MM2 = 1_000_000
MM3_IN_M3 = Decimal(1_000_000_000)


def making_good(question: Measurement) -> MakingGood:
    """Add up chases, patches and boxes.

    >>> chase = Chase(name="drops", length_mm=1200, width_mm=50, depth_mm=25, count=6)
    >>> making_good(Measurement(chases=(chase,))).chases_m
    Decimal('7.2')
    """
    _check(question)
    run_mm = sum(chase.length_mm * chase.count for chase in question.chases)
    fill_mm3 = sum(
        c.length_mm * c.count * c.width_mm * c.depth_mm for c in question.chases
    )
    sizes = [(patch, patch.length_mm * patch.width_mm) for patch in question.patches]
    large_mm2 = sum(p.count * size for p, size in sizes if size > MIDDLING_PATCH_MM2)
    return MakingGood(
        chases_m=metres(run_mm),
        chase_fill_m3=Decimal(fill_mm3) / MM3_IN_M3,
        back_boxes=question.back_boxes,
        patches_small=sum(p.count for p, size in sizes if size <= SMALL_PATCH_MM2),
        patches_middling=sum(
            p.count for p, size in sizes if SMALL_PATCH_MM2 < size <= MIDDLING_PATCH_MM2
        ),
        patches_m2=area_m2(large_mm2),
        working=(
            *(_chase_words(chase) for chase in question.chases),
            *(_patch_words(patch, size) for patch, size in sizes),
        ),
    )


def _check(question: Measurement) -> None:
    for number, chase in enumerate(question.chases):
        path = f"chases[{number}]"
        for side, size_mm in (
            ("length", chase.length_mm),
            ("width", chase.width_mm),
            ("depth", chase.depth_mm),
        ):
            check_length(
                size_mm, what=f"The {side} of {chase.name}", field=f"{path}.{side}_mm"
            )
        _check_count(chase.count, what=chase.name, field=f"{path}.count")
    for number, patch in enumerate(question.patches):
        path = f"patches[{number}]"
        for side, size_mm in (("length", patch.length_mm), ("width", patch.width_mm)):
            check_length(
                size_mm, what=f"The {side} of {patch.name}", field=f"{path}.{side}_mm"
            )
        _check_count(patch.count, what=patch.name, field=f"{path}.count")
    if question.back_boxes < 0:
        raise Refused("The number of back boxes is less than nothing.", "back_boxes")


def _check_count(count: int, *, what: str, field: str) -> None:
    if count < 1:
        raise Refused(f"{what} is counted {count} times. Give 1 or more.", field)


def _chase_words(chase: Chase) -> str:
    run_mm = chase.length_mm * chase.count
    return (
        f"{chase.name}: {chase.count} × {in_metres(chase.length_mm)} = "
        f"{in_metres(run_mm)} m, {chase.width_mm} wide and {chase.depth_mm} deep."
    )


def _patch_words(patch: Patch, size_mm2: int) -> str:
    size = (
        f"{patch.name}: {patch.count} × {in_metres(patch.length_mm)} × "
        f"{in_metres(patch.width_mm)}, {figure(area_m2(size_mm2))} m² each"
    )
    if size_mm2 <= SMALL_PATCH_MM2:
        return f"{size}, counted as small."
    if size_mm2 <= MIDDLING_PATCH_MM2:
        return f"{size}, counted as middling."
    return f"{size}, measured by area."
