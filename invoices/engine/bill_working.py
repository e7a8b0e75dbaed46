"""The working of a bill, as sentences its reader can follow."""

from collections.abc import Iterator
from datetime import date

from invoices.engine.bill_values import BillLine, Deposit, TaxPoint, VatGroup


def bill_sentences(
    lines: tuple[BillLine, ...],
    vat: tuple[VatGroup, ...],
    deposits: tuple[Deposit, ...],
    points: tuple[TaxPoint, ...],
    due_on: date,
) -> Iterator[str]:
    """Tell how the bill came about, one step a sentence."""
    for line in lines:
        yield f"{line.what}: £{line.net_gbp}."
    for group in vat:
        yield (
            f"VAT {group.rate_pct} % of £{group.net_gbp} = £{group.vat_gbp}, worked "
            f"once on the sum ({group.why.removesuffix('.')})."
        )
    for deposit in deposits:
        yield f"Deposit of £{deposit.gross_gbp} received on {deposit.received_on}."
    for point in points:
        yield (
            f"Tax point {point.on} for £{point.gross_gbp} (VAT £{point.vat_gbp}): "
            f"{point.why}."
        )
    yield f"Due on {due_on}."
