"""What to order from the merchant, in whole packs, and by when.

Needs of coming jobs come in as exact quantities with the day they are wanted; what is
in the lock-up is taken off first. Prices and merchants' names are not known here.
"""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays, england_bank_holidays

# A hair over a whole pack is that pack.
GUARD = Decimal("1e-9")


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What one job wants of one item, and the day it must be on site."""

    item: str
    quantity: Decimal
    unit: str
    pack_size: Decimal
    needed_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What lies in the lock-up, in the item's own unit."""

    item: str
    quantity: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordering:
    """The question: needs, stock, and how long the merchant takes."""

    needs: tuple[Need, ...]
    stock: tuple[Stock, ...] = ()
    lead_working_days: int = 2
    today: date
    closed_on: tuple[date, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """Whole packs of one item and the last day on which to order them."""

    item: str
    unit: str
    needed: Decimal
    from_stock: Decimal
    short: Decimal
    pack_size: Decimal
    packs: int
    needed_on: date
    order_by_on: date
    is_late: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """The answer: what to order, and what the lock-up covers (no packs)."""

    lines: tuple[OrderLine, ...]
    working: tuple[str, ...]


def order(question: Ordering) -> Ordered:
    """Add up each item over all jobs, less the lock-up, and round up once.

    The lock-up goes to the job that wants it first, so the order is due for the first
    job it does not cover.

    >>> need = Need(item="finish", quantity=Decimal(110), unit="kg",
    ...             pack_size=Decimal(25), needed_on=date(2026, 4, 8))
    >>> stock = Stock(item="finish", quantity=Decimal(25))
    >>> line = order(Ordering(needs=(need,), stock=(stock,), today=date(2026, 4, 1)))
    >>> line.lines[0].packs, line.lines[0].order_by_on
    (4, datetime.date(2026, 4, 2))
    """
    _check(question)
    calendar = _calendar(question)
    items = sorted({need.item for need in question.needs})
    lines = tuple(_line(item, question, calendar) for item in items)
    return Ordered(lines=lines, working=tuple(map(_sentence, lines)))


def _check(question: Ordering) -> None:
    if not question.needs:
        raise Refused("No job needs anything yet.", field="needs")
    if question.lead_working_days < 0:
        raise Refused(
            "Give the merchant's lead time in whole working days, 0 or more.",
            field="lead_working_days",
        )
    for n, held in enumerate(question.stock):
        if held.quantity < 0:
            raise Refused(
                f"The lock-up cannot hold less than no '{held.item}'.",
                field=f"stock[{n}].quantity",
            )
    _check_needs(question.needs)


def _check_needs(needs: tuple[Need, ...]) -> None:
    packs: dict[str, tuple[Decimal, str]] = {}
    for n, need in enumerate(needs):
        pack = (need.pack_size, need.unit)
        if need.quantity <= 0 or need.pack_size <= 0:
            raise Refused(
                f"'{need.item}' needs a quantity and a pack size above nothing.",
                field=f"needs[{n}]",
            )
        if packs.setdefault(need.item, pack) != pack:
            raise Refused(
                f"'{need.item}' comes in two pack sizes. Name them as two items.",
                field=f"needs[{n}].pack_size",
            )


def _calendar(question: Ordering) -> WorkingDays:
    days = [question.today, *(need.needed_on for need in question.needs)]
    years = range(min(days).year - 1, max(days).year + 2)
    return WorkingDays(england_bank_holidays(years) | set(question.closed_on))


def _line(item: str, question: Ordering, calendar: WorkingDays) -> OrderLine:
    needs = sorted(
        (need for need in question.needs if need.item == item),
        key=lambda need: need.needed_on,
    )
    needed = sum((need.quantity for need in needs), Decimal(0))
    held = sum((s.quantity for s in question.stock if s.item == item), Decimal(0))
    short = max(Decimal(0), needed - held)
    exact = short / needs[0].pack_size - GUARD
    packs = max(0, int(exact.to_integral_value(rounding=ROUND_CEILING)))
    needed_on = _first_uncovered(needs, held)
    order_by_on = calendar.add(needed_on, -question.lead_working_days)
    return OrderLine(
        item=item,
        unit=needs[0].unit,
        needed=needed,
        from_stock=needed - short,
        short=short,
        pack_size=needs[0].pack_size,
        packs=packs,
        needed_on=needed_on,
        order_by_on=order_by_on,
        is_late=bool(packs) and order_by_on < question.today,
    )


def _first_uncovered(needs: list[Need], held: Decimal) -> date:
    for need in needs:
        held -= need.quantity
        if held < 0:
            return need.needed_on
    return needs[0].needed_on


def _sentence(line: OrderLine) -> str:
    if not line.packs:
        return f"{line.item}: {line.needed} {line.unit}, all of it in the lock-up."
    late = " That day has passed: ring the merchant." if line.is_late else ""
    return (
        f"{line.item}: {line.needed} {line.unit} less {line.from_stock} in the "
        f"lock-up = {line.short} {line.unit} → {line.packs} × {line.pack_size}, wanted "
        f"on {line.needed_on}, so order by {line.order_by_on}.{late}"
    )
