"""One planning figure of the trade, and how a firm's own figure overrules it.

A figure carries its value, its unit, the range met in practice, when it holds, and who
says so. Nobody publishes most of them: they are starting values for a firm that has
not yet measured its own.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from firm.engine.refusal import Refused

Status = Literal["seen", "from memory", "common practice", "arithmetic"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A row of what the trade knows."""

    code: str
    value: Decimal
    unit: str
    low: Decimal
    high: Decimal
    conditions: str
    source: str
    status: Status


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """The rows on file with the firm's own figures laid over them."""

    rows: Mapping[str, Figure]
    own: Mapping[str, Decimal]

    def __getitem__(self, code: str) -> Decimal:
        return self.own.get(code, self.rows[code].value)

    def low(self, code: str) -> Decimal:
        """Return the low end of the range, never above the figure in force."""
        return min(self.rows[code].low, self[code])

    def high(self, code: str) -> Decimal:
        """Return the high end of the range, never below the figure in force."""
        return max(self.rows[code].high, self[code])

    def overruled(self) -> tuple[str, ...]:
        """Say in sentences which rows the firm has overruled, with both figures."""
        return tuple(
            f"{code}: the firm's own {own} instead of {self.rows[code].value} "
            f"{self.rows[code].unit} ({self.rows[code].status})."
            for code, own in sorted(self.own.items())
        )


def figures_with(rows: Iterable[Figure], own: Mapping[str, Decimal]) -> Figures:
    """Lay a firm's own figures over the rows; a code nobody knows is refused.

    >>> row = Figure(code="SKW.plasterer", value=Decimal("0.18"), unit="h per m²",
    ...              low=Decimal("0.13"), high=Decimal("0.25"), conditions="",
    ...              source="planning set", status="common practice")
    >>> figures_with([row], {"SKW.plasterer": Decimal("0.2")}).overruled()[0]
    "SKW.plasterer: the firm's own 0.2 instead of 0.18 h per m² (common practice)."
    """
    by_code = {row.code: row for row in rows}
    for code, value in own.items():
        if code not in by_code:
            raise Refused(f"No figure is called {code}.", field=f"figures.{code}")
        if not value.is_finite() or value < 0:
            raise Refused("Give a figure of nought or more.", field=f"figures.{code}")
    return Figures(rows=by_code, own=own)
