"""What pricing is asked and what it answers, as plain values in pounds before VAT."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

VatKind = Literal["standard", "reduced", "zero"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLine:
    """What the customer reads as one line: a room and what is done there.

    `weight` shares out a price worked from cost (hours do well); `rate_gbp` times
    `quantity` is the line's price where the firm prices by its own rates.
    """

    room: str
    what: str
    quantity: Decimal
    unit: str
    rate_gbp: Decimal | None = None
    weight: Decimal = Decimal(0)
    vat_kind: VatKind = "standard"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """Hours of one kind of work, with the range met in practice, and their cost."""

    what: str
    hours: Decimal
    low_hours: Decimal
    high_hours: Decimal
    rate_gbp: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """Whole packs of one thing at the merchant's price."""

    item: str
    packs: int
    pack_gbp: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Pricing:
    """The question: cost, the firm's additions, its minimum, and its VAT."""

    way: Literal["cost", "rates"]
    lines: tuple[WorkLine, ...]
    on: date
    hours: tuple[Hours, ...] = ()
    purchases: tuple[Purchase, ...] = ()
    overhead_pct: Decimal = Decimal(0)
    margin_pct: Decimal = Decimal(0)
    minimum_gbp: Decimal = Decimal(0)
    is_vat_registered: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedLine:
    """One line of the quote with its net price."""

    room: str
    what: str
    quantity: Decimal
    unit: str
    net_gbp: Decimal
    vat_kind: VatKind


@dataclass(frozen=True, slots=True, kw_only=True)
class VatSum:
    """VAT of all lines at one rate, worked once on their sum."""

    kind: VatKind
    rate_pct: Decimal
    net_gbp: Decimal
    vat_gbp: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Low, likely and high of one figure."""

    low: Decimal
    likely: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """The answer: cost by kind, the price by line, VAT by rate, and the band."""

    labour_gbp: Decimal
    materials_gbp: Decimal
    cost_gbp: Decimal
    overhead_gbp: Decimal
    margin_gbp: Decimal
    is_minimum_applied: bool
    lines: tuple[PricedLine, ...]
    net_gbp: Decimal
    vat: tuple[VatSum, ...]
    vat_gbp: Decimal
    gross_gbp: Decimal
    hours_band: Band
    cost_band_gbp: Band
    reasons: tuple[str, ...]
    working: tuple[str, ...]
