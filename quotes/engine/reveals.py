"""Reveals and beads: what turns into an opening, what is fixed on its edges.

Reveals run along two jambs and the head; along the sill only when said. A reveal's
width decides, rule by rule, whether it is counted by area or by the metre.
"""

from firm.engine.lengths import area_m2, figure, in_metres, metres
from quotes.engine.bases import Rule
from quotes.engine.measurement_values import (
    BeadRun,
    MeasuredReveal,
    Opening,
    Reveal,
)


def pieces_mm(opening: Opening, reveal: Reveal) -> tuple[int, ...]:
    """Return the runs of a reveal, jambs first.

    >>> deep = Reveal(depth_mm=150)
    >>> pieces_mm(Opening(name="window", width_mm=1200, height_mm=1050), deep)
    (1050, 1050, 1200)
    """
    jambs = (opening.height_mm,) * 2 if reveal.has_jambs else ()
    head = (opening.width_mm,) if reveal.has_head else ()
    sill = (opening.width_mm,) if reveal.has_sill else ()
    return jambs + head + sill


def measured_reveal(
    opening: Opening, reveal: Reveal, *, surface: str, rules: tuple[Rule, ...]
) -> MeasuredReveal:
    """Measure the reveal of one opening on every basis."""
    pieces = pieces_mm(opening, reveal)
    run_mm = sum(pieces)
    size_m2 = area_m2(run_mm * reveal.depth_mm)
    where = f"{surface}, {opening.name}"
    sums = " + ".join(in_metres(piece) for piece in pieces)
    return MeasuredReveal(
        where=where,
        surface=surface,
        sides=_sides(reveal),
        length_m=metres(run_mm),
        width_mm=reveal.depth_mm,
        area_m2=size_m2,
        narrow_by=tuple(r.basis for r in rules if r.is_narrow(reveal.depth_mm)),
        working=(
            f"{where}: reveal {sums} = {in_metres(run_mm)} m "
            f"at {in_metres(reveal.depth_mm)} = {figure(size_m2)} m²."
        ),
    )


def _sides(reveal: Reveal) -> str:
    named = (
        ("jambs", reveal.has_jambs),
        ("head", reveal.has_head),
        ("sill", reveal.has_sill),
    )
    return ", ".join(side for side, has in named if has) or "none"


def reveal_beads(opening: Opening, *, surface: str) -> tuple[BeadRun, ...]:
    """Return the beads on the edges of a reveal, none where it has none."""
    if opening.reveal is None or not opening.reveal.is_beaded:
        return ()
    pieces = pieces_mm(opening, opening.reveal)
    where = f"{surface}, {opening.name}"
    return (BeadRun(kind="reveal", where=where, pieces_mm=pieces),) if pieces else ()
