"""The same work on every basis, each figure with the sentences behind it."""

from dataclasses import dataclass
from decimal import Decimal

from firm.engine.lengths import figure
from quotes.engine.measurement_values import (
    Basis,
    MeasureAnswer,
    MeasuredReveal,
    MeasuredSurface,
    Total,
)
from quotes.models import Look

SHOWN: tuple[tuple[str, Basis, str], ...] = (
    (Look.Basis.TRUE, "true", "True surface"),
    (Look.Basis.THROUGH, "through", "Measured through"),
    (Look.Basis.NRM2, "nrm2", "NRM2"),
    (Look.Basis.SMM7, "smm7", "SMM7"),
    (Look.Basis.FIRM, "own", "Our threshold"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BasisFigure:
    """What one basis makes of a room or a job. `is_ours` is the look's own basis."""

    basis: str
    title: str
    label: str
    total: Total
    narrow_words: str
    working: tuple[str, ...]
    is_ours: bool


def basis_figures(answer: MeasureAnswer, *, ours: str) -> tuple[BasisFigure, ...]:
    return tuple(
        _figure(answer, choice=choice, basis=basis, title=title, ours=ours)
        for choice, basis, title in SHOWN
    )


def _figure(
    answer: MeasureAnswer, *, choice: str, basis: Basis, title: str, ours: str
) -> BasisFigure:
    total: Total = getattr(answer.totals, basis)
    run_m = total.narrow_m + total.reveals_m
    return BasisFigure(
        basis=choice,
        title=title,
        label=Look.Basis(choice).label,
        total=total,
        narrow_words=f"{figure(run_m)} m narrow" if run_m else "",
        working=_working(answer, basis=basis, total_m2=total.total_m2, run_m=run_m),
        is_ours=choice == ours,
    )


def _working(
    answer: MeasureAnswer, *, basis: Basis, total_m2: Decimal, run_m: Decimal
) -> tuple[str, ...]:
    # Measured through, the voids left in pay for the reveals.
    reveals = () if basis == "through" else answer.reveals
    narrow = f" and {figure(run_m)} m of narrow work" if run_m else ""
    return (
        *(_surface_words(surface, basis) for surface in answer.surfaces),
        *(_reveal_words(reveal, basis) for reveal in reveals),
        f"Together {figure(total_m2)} m²{narrow}.",
    )


def _surface_words(surface: MeasuredSurface, basis: Basis) -> str:
    counted = next(area for area in surface.by_basis if area.basis == basis)
    if counted.narrow_m:
        return f"{surface.name}: narrow, so {figure(counted.narrow_m)} m."
    size = f"{surface.name}: {figure(surface.gross_m2)}"
    taken = [void for void in surface.deductions if basis in void.deducted_by]
    if not taken:
        return f"{size} m²."
    less = ", ".join(f"less {void.what} {figure(void.area_m2)}" for void in taken)
    return f"{size}, {less} = {figure(counted.area_m2)} m²."


def _reveal_words(reveal: MeasuredReveal, basis: Basis) -> str:
    if basis in reveal.narrow_by:
        return f"{reveal.where}: reveal {figure(reveal.length_m)} m, by the metre."
    return (
        f"{reveal.where}: reveal {figure(reveal.length_m)} m × "
        f"{reveal.width_mm} mm = {figure(reveal.area_m2)} m²."
    )
