"""VAT rates by kind of supply and by date, as rows with their source.

A kind and a tax point come in, a percentage goes out. Which kind a job is (ordinary,
conversion, new dwelling) is decided by the job and its evidence, not here; ask the
tax office or an adviser when in doubt. A day without a row is refused, never guessed.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from firm.engine.refusal import Refused


@dataclass(frozen=True, slots=True, kw_only=True)
class RateRow:
    """One rate, the days on which it holds, and where it is laid down."""

    kind: str
    rate_pct: Decimal
    from_on: date
    source: str
    until_on: date = date.max


VAT_RATES = (
    RateRow(
        kind="standard",
        rate_pct=Decimal(20),
        from_on=date(2011, 1, 4),
        source="VATA 1994 s. 2(1), as amended by Finance (No. 2) Act 2010 s. 3",
    ),
    RateRow(
        kind="reduced",
        rate_pct=Decimal(5),
        from_on=date(2001, 11, 1),
        source="VATA 1994 s. 29A and Sch. 7A (first day from memory)",
    ),
    RateRow(
        kind="zero",
        rate_pct=Decimal(0),
        from_on=date(1994, 9, 1),
        source="VATA 1994 s. 30 and Sch. 8 (first day from memory)",
    ),
)


def vat_rate_pct(kind: str, on: date) -> Decimal:
    """Return the VAT rate for a kind of supply whose tax point is that day.

    >>> vat_rate_pct("standard", date(2026, 11, 24))
    Decimal('20')
    """
    return vat_rate_row(kind, on).rate_pct


def vat_rate_row(kind: str, on: date) -> RateRow:
    """Return the row behind a rate, for pages that show the source."""
    rows = [row for row in VAT_RATES if row.kind == kind]
    if not rows:
        raise Refused(f"VAT is standard, reduced or zero; '{kind}' is none of them.")
    for row in rows:
        if row.from_on <= on <= row.until_on:
            return row
    raise Refused(
        f"There is no {kind} VAT rate on file for {on}. Add the row with its source."
    )
