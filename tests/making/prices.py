"""What the firm charges and what a merchant asks, so that a job can be priced."""

from decimal import Decimal
from typing import Any

from firm.engine.trade.materials import PRODUCTS
from jobs.models import Job, Merchant, PackPrice
from quotes.models import Rates
from tests.making import jobs, people
from tests.making.quotes import look_w1


def rates(**columns: Any) -> Rates:
    """Return easy rates: 30 and 20 pounds an hour, a tenth of overhead, a fifth."""
    columns.setdefault("plasterer_hour_gbp", Decimal("30.00"))
    columns.setdefault("labourer_hour_gbp", Decimal("20.00"))
    columns.setdefault("overhead_pct", Decimal("10.00"))
    columns.setdefault("margin_pct", Decimal("20.00"))
    columns.setdefault("minimum_charge_gbp", Decimal("200.00"))
    return Rates.objects.create(pk=1, **columns)


def prices() -> Merchant:
    """Return a merchant with a ten-pound price for a pack of everything."""
    at, _ = Merchant.objects.get_or_create(
        name="Sandpit Supplies", defaults={"email": "orders@sandpit.example.com"}
    )
    PackPrice.objects.bulk_create(
        PackPrice(
            merchant=at, item_code=code, pack=product.pack_name, price_gbp=Decimal(10)
        )
        for code, product in PRODUCTS.items()
    )
    return at


def quotable_job(**columns: Any) -> Job:
    """Return a job that was looked at (bedroom W1), in a firm that can price it."""
    people.firm()
    rates()
    prices()
    made = jobs.job("looked", **columns)
    look_w1(made)
    return made
