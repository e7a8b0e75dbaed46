"""Draw the bill of a job: what was agreed, VAT once per rate, less the deposit.

Net sums come in as agreed; VAT is worked on the sum of the lines at each rate, half a
penny up, which meets the tax office's plain rule and EN 16931 (BR-CO-17) at once.
Reverse charge, retention and construction-industry deductions are not worked out here
and are refused rather than half done. Law and tax: check with the authority or an
adviser.
"""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from decimal import Decimal

from firm.engine.money import pounds
from firm.engine.refusal import Refused
from firm.engine.tax import vat_rate_row
from invoices.engine.bill_check import check
from invoices.engine.bill_tax_point import balance_point, tax_points
from invoices.engine.bill_values import (
    Bill,
    BillLine,
    ContractLine,
    Deposit,
    DrawnBill,
    Extra,
    TaxPoint,
    VatGroup,
)
from invoices.engine.bill_working import bill_sentences

__all__ = [
    "Bill",
    "BillLine",
    "ContractLine",
    "Deposit",
    "DrawnBill",
    "Extra",
    "TaxPoint",
    "VatGroup",
    "draw_bill",
]

# VAT Regulations 1995 reg. 16A: not over 250 pounds with VAT.
SIMPLIFIED_UP_TO_GBP = Decimal(250)
NOT_REGISTERED = "Not VAT registered: no VAT is charged."


def draw_bill(bill: Bill) -> DrawnBill:
    """Work out lines, VAT, what is left to pay, the tax points and the due date.

    A deposit paid is money, not a discount: VAT is on the whole price, and the deposit
    comes off what is payable.

    >>> skim = ContractLine(what="skim", net_gbp=Decimal("500.00"))
    >>> paid = Deposit(gross_gbp=Decimal("150.00"), received_on=date(2026, 11, 3))
    >>> bill = draw_bill(Bill(lines=(skim,), deposits=(paid,),
    ...                       issued_on=date(2026, 11, 24)))
    >>> bill.gross_gbp, bill.payable_gbp
    (Decimal('600.00'), Decimal('450.00'))
    """
    check(bill)
    on, _ = balance_point(bill)
    lines = tuple(_lines(bill, on))
    vat = tuple(_groups(bill, lines, on))
    net_gbp = _total(line.net_gbp for line in lines)
    vat_gbp = _total(group.vat_gbp for group in vat)
    deposit_gbp = _total(deposit.gross_gbp for deposit in bill.deposits)
    gross_gbp = net_gbp + vat_gbp
    if any(group.net_gbp < 0 for group in vat):
        raise Refused("More was left out than is billed. Write a credit note instead.")
    if deposit_gbp > gross_gbp:
        raise Refused(
            f"The deposits (£{deposit_gbp}) are more than the bill (£{gross_gbp}). "
            "Give the difference back first.",
            field="deposits",
        )
    points = tuple(tax_points(bill, vat)) if bill.is_vat_registered else ()
    due_on = bill.issued_on + timedelta(days=bill.terms_days)
    return DrawnBill(
        lines=lines,
        vat=vat,
        net_gbp=net_gbp,
        vat_gbp=vat_gbp,
        gross_gbp=gross_gbp,
        deposit_gbp=deposit_gbp,
        payable_gbp=gross_gbp - deposit_gbp,
        tax_points=points,
        due_on=due_on,
        may_be_simplified=gross_gbp <= SIMPLIFIED_UP_TO_GBP and bill.is_vat_registered,
        wording=() if bill.is_vat_registered else (NOT_REGISTERED,),
        totals=_totals(net_gbp, vat_gbp, deposit_gbp),
        working=tuple(bill_sentences(lines, vat, bill.deposits, points, due_on)),
    )


def _lines(bill: Bill, on: date) -> Iterator[BillLine]:
    for line in bill.work:
        row = vat_rate_row(line.vat_kind, on)
        registered = bill.is_vat_registered
        yield BillLine(
            what=line.what,
            quantity=-1 if line.net_gbp < 0 else 1,
            net_gbp=pounds(line.net_gbp),
            category=("S" if row.rate_pct else "Z") if registered else "O",
            rate_pct=row.rate_pct if registered else Decimal(0),
        )


def _groups(bill: Bill, lines: tuple[BillLine, ...], on: date) -> Iterator[VatGroup]:
    kinds = [line.vat_kind for line in bill.work]
    if not bill.is_vat_registered:
        yield _group(lines, NOT_REGISTERED)
        return
    for kind in dict.fromkeys(kinds):
        same = [line for line, its in zip(lines, kinds, strict=True) if its == kind]
        yield _group(
            same, f"{kind} rate on {on:%-d %B %Y}, {vat_rate_row(kind, on).source}"
        )


def _group(lines: Iterable[BillLine], why: str) -> VatGroup:
    same = tuple(lines)
    net_gbp = _total(line.net_gbp for line in same)
    rate_pct = same[0].rate_pct
    return VatGroup(
        category=same[0].category,
        rate_pct=rate_pct,
        net_gbp=net_gbp,
        vat_gbp=pounds(net_gbp * rate_pct / 100),
        why=why,
    )


def _totals(
    net_gbp: Decimal, vat_gbp: Decimal, deposit_gbp: Decimal
) -> dict[str, Decimal]:
    """Give the document totals of EN 16931; there are no allowances or charges."""
    return {
        "BT-106": net_gbp,
        "BT-109": net_gbp,
        "BT-110": vat_gbp,
        "BT-112": net_gbp + vat_gbp,
        "BT-113": deposit_gbp,
        "BT-115": net_gbp + vat_gbp - deposit_gbp,
    }


def _total(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, pounds(0))
