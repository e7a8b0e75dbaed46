"""Openings and left-out parts: do they fit, do they touch an edge, what comes off.

An opening that touches the edge of its wall or ceiling is a boundary want and comes
off under every rule that takes voids off at all (NRM2 part 3, SMM7 General Rule 3.4,
from memory). A part left unplastered (a radiator, tiles) is read as a void too; the
rules speak of voids, not of fittings.
"""

from decimal import Decimal
from itertools import combinations

from firm.engine.lengths import area_m2, check_length, figure, in_mm
from firm.engine.refusal import Refused
from quotes.engine.bases import RULE_WORDS, Rule, limit_m2
from quotes.engine.measurement_values import Basis, Deduction, Opening

GIRTH_BASES: tuple[Basis, ...] = ("nrm2", "smm7", "own")


def area_mm2(opening: Opening) -> int:
    """Return the size of an opening in whole square millimetres."""
    return opening.width_mm * opening.height_mm


def is_boundary(opening: Opening, *, length_mm: int, height_mm: int) -> bool:
    """Say whether an opening touches the edge of a face of that size.

    >>> door = Opening(name="door", kind="door", width_mm=800, height_mm=2000)
    >>> is_boundary(door, length_mm=4200, height_mm=2400)
    True
    """
    if opening.touches_edge:
        return True
    if opening.kind in {"door", "fireplace"} and opening.sill_mm is None:
        return True
    across, up = opening.left_mm, opening.sill_mm
    ends_across = across is not None and (
        across == 0 or across + opening.width_mm == length_mm
    )
    ends_up = up is not None and (up == 0 or up + opening.height_mm == height_mm)
    spans = opening.width_mm == length_mm or opening.height_mm == height_mm
    return ends_across or ends_up or spans


def check_openings(
    openings: tuple[tuple[str, Opening], ...],
    *,
    face: str,
    length_mm: int,
    height_mm: int,
    gross_mm2: Decimal,
) -> None:
    """Refuse openings that cannot all be in a face of that size; each has its path."""
    for path, opening in openings:
        _check_sizes(opening, face=face, path=path)
        _check_fit(
            opening, face=face, length_mm=length_mm, height_mm=height_mm, path=path
        )
    total_mm2 = sum(area_mm2(opening) for _, opening in openings)
    if total_mm2 > gross_mm2:
        raise Refused(
            f"The openings in {face} add up to more than the surface "
            f"({figure(area_m2(total_mm2))} m² of "
            f"{figure(area_m2(gross_mm2))} m²). "
            "Check the sizes on the sheet.",
            openings[-1][0],
        )
    _refuse_overlaps(openings, face=face)


def _check_sizes(opening: Opening, *, face: str, path: str) -> None:
    what = f"{opening.name} in {face}"
    check_length(
        opening.width_mm, what=f"The width of {what}", field=f"{path}.width_mm"
    )
    check_length(
        opening.height_mm, what=f"The height of {what}", field=f"{path}.height_mm"
    )
    if opening.reveal is not None:
        check_length(
            opening.reveal.depth_mm,
            what=f"The reveal of {what}",
            field=f"{path}.reveal.depth_mm",
        )


def _check_fit(
    opening: Opening, *, face: str, length_mm: int, height_mm: int, path: str
) -> None:
    ways = (
        ("width", opening.width_mm, opening.left_mm, "left", length_mm),
        ("height", opening.height_mm, opening.sill_mm, "sill", height_mm),
    )
    for side, size_mm, start_mm, start, face_mm in ways:
        if size_mm > face_mm:
            raise Refused(
                f"The {side} of {opening.name} is {in_mm(size_mm)}, more than the "
                f"{in_mm(face_mm)} of {face}. Check the sizes on the sheet.",
                f"{path}.{side}_mm",
            )
        if start_mm is not None and not 0 <= start_mm <= face_mm - size_mm:
            raise Refused(
                f"{opening.name} at {in_mm(start_mm)} does not lie within {face}: "
                f"{in_mm(size_mm)} of {side} must fit in {in_mm(face_mm)}.",
                f"{path}.{start}_mm",
            )


def _refuse_overlaps(openings: tuple[tuple[str, Opening], ...], *, face: str) -> None:
    placed = [
        (path, opening, opening.left_mm, _sill_mm(opening))
        for path, opening in openings
        if opening.left_mm is not None
    ]
    for (_, one, left, up), (path, two, left_2, up_2) in combinations(placed, 2):
        if left is None or left_2 is None or up is None or up_2 is None:
            continue
        is_beside = left + one.width_mm <= left_2 or left_2 + two.width_mm <= left
        is_over = up + one.height_mm <= up_2 or up_2 + two.height_mm <= up
        if not (is_beside or is_over):
            raise Refused(
                f"{one.name} and {two.name} in {face} lie over each other. "
                "Check how far they are from the left and from the floor.",
                f"{path}.left_mm",
            )


def _sill_mm(opening: Opening) -> int | None:
    stands = opening.kind in {"door", "fireplace"}
    return 0 if opening.sill_mm is None and stands else opening.sill_mm


def deduction(
    opening: Opening, *, length_mm: int, height_mm: int, rules: tuple[Rule, ...]
) -> Deduction:
    """Say on which bases an opening comes off, and why."""
    size_mm2 = area_mm2(opening)
    at_edge = is_boundary(opening, length_mm=length_mm, height_mm=height_mm)
    taking = [
        rule for rule in rules if rule.deducts(area_mm2=size_mm2, is_boundary=at_edge)
    ]
    return Deduction(
        what=opening.name,
        area_m2=area_m2(size_mm2),
        is_boundary=at_edge,
        deducted_by=tuple(rule.basis for rule in taking),
        reason=_reason(opening, at_edge=at_edge, rules=rules, size_mm2=size_mm2),
    )


def _reason(
    opening: Opening, *, at_edge: bool, rules: tuple[Rule, ...], size_mm2: int
) -> str:
    size = f"{opening.name} {figure(area_m2(size_mm2))} m²"
    if at_edge:
        return f"{size} touches the edge: taken off under every rule."
    tested = [
        f"{'over' if size_mm2 > rule.ignore_up_to_mm2 else 'not over'} "
        f"{figure(limit_m2(rule))} {RULE_WORDS[rule.basis]} "
        f"{'takes it off' if size_mm2 > rule.ignore_up_to_mm2 else 'leaves it in'}"
        for rule in rules
        if rule.basis in GIRTH_BASES
    ]
    return f"{size}: {', '.join(tested)}; it is not plastered."
