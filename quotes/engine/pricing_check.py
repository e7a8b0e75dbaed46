"""Refuse a price that cannot be reckoned, with the field at fault."""

from firm.engine.refusal import Refused
from quotes.engine.pricing_values import Hours, Pricing, Purchase, WorkLine


def check(job: Pricing) -> None:
    """Refuse missing lines, figures below nothing, and margins that eat the price."""
    if not job.lines:
        raise Refused("There is nothing to price. Add a line.", field="lines")
    _check_additions(job)
    for n, hours in enumerate(job.hours):
        _check_hours(hours, f"hours[{n}]")
    for n, purchase in enumerate(job.purchases):
        _check_purchase(purchase, f"purchases[{n}]")
    for n, line in enumerate(job.lines):
        _check_line(line, job.way, f"lines[{n}]")


def _check_additions(job: Pricing) -> None:
    if not 0 <= job.margin_pct < 100:
        raise Refused(
            "The margin is a share of the price: from 0 to under 100.",
            field="margin_pct",
        )
    if job.overhead_pct < 0:
        raise Refused("Overhead cannot be less than nothing.", field="overhead_pct")
    if job.minimum_gbp < 0:
        raise Refused("The minimum cannot be below nothing.", field="minimum_gbp")


def _check_hours(h: Hours, path: str) -> None:
    if not 0 <= h.low_hours <= h.hours <= h.high_hours or h.rate_gbp < 0:
        raise Refused(
            f"'{h.what}' needs low, likely and high hours in that order.", field=path
        )


def _check_purchase(purchase: Purchase, path: str) -> None:
    if purchase.packs < 0 or purchase.pack_gbp < 0:
        raise Refused(
            f"'{purchase.item}' needs packs and a price of nought or more.", field=path
        )


def _check_line(line: WorkLine, way: str, path: str) -> None:
    if line.quantity < 0 or line.weight < 0 or (line.rate_gbp or 0) < 0:
        raise Refused(f"'{line.what}' has a figure below nothing.", field=path)
    if way == "rates" and line.rate_gbp is None:
        raise Refused(
            f"'{line.what}' has no rate. Give the firm's rate per {line.unit}.",
            field=f"{path}.rate_gbp",
        )
