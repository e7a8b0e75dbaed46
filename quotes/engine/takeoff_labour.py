"""Labour of a job: person-hours by operation, what slows them, and the days."""

from collections.abc import Callable, Iterable
from decimal import Decimal

from firm.engine.refusal import Refused
from firm.engine.trade.figures import Figures
from firm.engine.trade.labour import OPERATIONS, Operation
from quotes.engine.takeoff_materials import whole_packs
from quotes.engine.takeoff_values import (
    BeadNeed,
    Gang,
    Labour,
    OperationNeed,
    Surface,
    TakeOff,
)

HIGH_MM = 3000
VERY_HIGH_MM = 3500
WHOLE_JOB = "whole job"
ONE = Decimal(1)

Read = Callable[[str], Decimal]


def labour_for(job: TakeOff, *, figures: Figures) -> tuple[Labour, ...]:
    """Return the hours of every operation, with set-up, without clear-down."""
    lines = [
        _on_surface(need, surface, job.gang, figures, f"surfaces[{s}].operations[{n}]")
        for s, surface in enumerate(job.surfaces)
        for n, need in enumerate(surface.operations)
    ]
    lines.extend(_beads(need, job.gang, figures) for need in job.beads)
    if job.rooms:
        lines.append(_line("SUP", Decimal(job.rooms), job.gang, figures))
    return tuple(lines)


def clear_down(days: int, gang: Gang, figures: Figures) -> Labour:
    """Return the hours of clearing down, once each day."""
    return _line("CLR", Decimal(days), gang, figures)


def days_needed(lines: Iterable[Labour], gang: Gang, *, figures: Figures) -> int:
    """Return the fewest whole days in which each trade gets its hours done.

    Every day loses its own clear-down, so it is the smallest d with
    hours + d × clear-down ≤ d × productive hours of the people there are.
    """
    hours = tuple(lines)
    daily = clear_down(1, gang, figures)
    productive_h = figures["DAY.hours"]
    trades = (
        (sum_h(hours, "plasterer_h"), daily.plasterer_h, gang.plasterers),
        (sum_h(hours, "labourer_h"), daily.labourer_h, gang.labourers),
    )
    days = 1
    for work_h, clear_h, people in trades:
        left_h = productive_h * people - clear_h
        if work_h and left_h <= 0:
            raise Refused("Clearing down takes the whole day.", field="figures")
        days = max(days, whole_packs(work_h, left_h) if work_h else 0)
    return days


def sum_h(lines: Iterable[Labour], column: str) -> Decimal:
    """Add up one column of hours."""
    return sum((getattr(line, column) for line in lines), Decimal(0))


def _on_surface(
    need: OperationNeed, surface: Surface, gang: Gang, figures: Figures, path: str
) -> Labour:
    operation = OPERATIONS.get(need.code)
    if operation is None or operation.unit not in ("m²", "m"):
        raise Refused(
            f"'{need.code}' is nothing that is done to a surface. Pick one of "
            f"{', '.join(c for c, o in OPERATIONS.items() if o.unit in ('m²', 'm'))}.",
            field=f"{path}.code",
        )
    if need.coats < 1:
        raise Refused("Give at least one coat.", field=f"{path}.coats")
    quantity = _quantity(need, operation, surface, path)
    slower = _factor(surface, figures) * need.coats
    return _line(
        need.code, quantity, gang, figures, surface=surface.name, slower=slower
    )


def _quantity(
    need: OperationNeed, operation: Operation, surface: Surface, path: str
) -> Decimal:
    whole = surface.area_m2 if operation.unit == "m²" else surface.length_m
    quantity = whole if need.quantity is None else need.quantity
    if quantity <= 0:
        raise Refused(
            f"Say how many {operation.unit} of '{operation.name}' there are.",
            field=f"{path}.quantity",
        )
    return quantity


def _factor(surface: Surface, figures: Figures) -> Decimal:
    factor = ONE
    for circumstance in surface.circumstances:
        factor *= figures[f"F.{circumstance}"]
    if surface.height_mm > VERY_HIGH_MM:
        return factor * figures["F.over_3500"]
    if surface.height_mm > HIGH_MM:
        return factor * figures["F.over_3000"]
    return factor


def _beads(need: BeadNeed, gang: Gang, figures: Figures) -> Labour:
    code = "BTH" if need.product == "M-BEAD-THIN" else "BAN"
    run_m = Decimal(sum(need.arrises_mm)) / 1000
    return _line(code, run_m, gang, figures)


def _line(
    code: str,
    quantity: Decimal,
    gang: Gang,
    figures: Figures,
    *,
    surface: str = WHOLE_JOB,
    slower: Decimal = ONE,
) -> Labour:
    operation = OPERATIONS[code]
    plasterer_h, labourer_h = _hours(
        operation, quantity, slower, gang, figures.__getitem__
    )
    low = _hours(operation, quantity, slower, gang, figures.low)
    high = _hours(operation, quantity, slower, gang, figures.high)
    return Labour(
        surface=surface,
        operation=code,
        name=operation.name,
        unit=operation.unit,
        quantity=quantity,
        plasterer_h=plasterer_h,
        labourer_h=labourer_h,
        low_h=sum(low, Decimal(0)),
        high_h=sum(high, Decimal(0)),
    )


def _hours(
    operation: Operation, quantity: Decimal, slower: Decimal, gang: Gang, read: Read
) -> tuple[Decimal, Decimal]:
    plasterer_h = quantity * slower * read(f"{operation.code}.plasterer")
    labourer_h = quantity * slower * read(f"{operation.code}.labourer")
    if not gang.labourers:
        plasterer_h = _alone(operation, plasterer_h, labourer_h, read)
        labourer_h = Decimal(0)
    if operation.code == "PAT" and quantity < 1:
        plasterer_h = max(plasterer_h, read("PAT.least"))
    return plasterer_h, labourer_h


def _alone(
    operation: Operation, plasterer_h: Decimal, labourer_h: Decimal, read: Read
) -> Decimal:
    if operation.family == "other":
        return plasterer_h + labourer_h
    return plasterer_h * read(f"F.solo_{operation.family}")
