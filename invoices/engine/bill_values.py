"""What a bill is drawn from and what it says, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

VatKind = Literal["standard", "reduced", "zero"]
# UNTDID 5305: S standard and reduced, Z zero-rated, O outside the scope (the firm is
# not registered).
Category = Literal["S", "Z", "O"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ContractLine:
    """A line of the accepted quote, net of VAT."""

    what: str
    net_gbp: Decimal
    vat_kind: VatKind = "standard"


@dataclass(frozen=True, slots=True, kw_only=True)
class Extra:
    """A change to the contract; below nothing when something was left out.

    `agreed_on` is the day the customer said yes. Without it the extra is not billed.
    """

    what: str
    net_gbp: Decimal
    agreed_on: date | None
    vat_kind: VatKind = "standard"


@dataclass(frozen=True, slots=True, kw_only=True)
class Deposit:
    """Money received on account, asked for without a VAT invoice of its own."""

    gross_gbp: Decimal
    received_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """The question: what was agreed, what was paid, when it was done and billed."""

    lines: tuple[ContractLine, ...]
    extras: tuple[Extra, ...] = ()
    deposits: tuple[Deposit, ...] = ()
    issued_on: date
    completed_on: date | None = None
    terms_days: int = 14
    is_vat_registered: bool = True
    is_reverse_charge: bool = False
    retention_pct: Decimal = Decimal(0)
    cis_deduction_pct: Decimal = Decimal(0)

    @property
    def work(self) -> tuple[ContractLine | Extra, ...]:
        """Everything that is billed, the contract first."""
        return (*self.lines, *self.extras)


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """A line of the bill: BT-153 what, BT-131 net, BT-151 and BT-152 its VAT."""

    what: str
    quantity: int
    net_gbp: Decimal
    category: Category
    rate_pct: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class VatGroup:
    """VAT at one rate: BT-118, BT-119, BT-116, BT-117, and why this rate."""

    category: Category
    rate_pct: Decimal
    net_gbp: Decimal
    vat_gbp: Decimal
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TaxPoint:
    """The day on which VAT on part of the price falls due, and why that day."""

    on: date
    gross_gbp: Decimal
    vat_gbp: Decimal
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnBill:
    """The answer. `totals` is keyed by the EN 16931 business term."""

    lines: tuple[BillLine, ...]
    vat: tuple[VatGroup, ...]
    net_gbp: Decimal
    vat_gbp: Decimal
    gross_gbp: Decimal
    deposit_gbp: Decimal
    payable_gbp: Decimal
    tax_points: tuple[TaxPoint, ...]
    due_on: date
    may_be_simplified: bool
    wording: tuple[str, ...]
    totals: Mapping[str, Decimal]
    working: tuple[str, ...]
