"""SQLite keeps decimals as binary fractions; a sum that is right is still taken."""

from decimal import Decimal

import pytest
from django.db import IntegrityError

from quotes.models import Quote, QuoteVersion
from tests import make

pytestmark = pytest.mark.django_db


def version(net: str, vat: str, gross: str) -> QuoteVersion:
    quote = Quote.objects.create(job=make.job("looked"), number=1)
    return QuoteVersion.objects.create(
        quote=quote,
        version=1,
        made_at=make.NOW,
        snapshot={},
        digest="d" * 64,
        net_gbp=Decimal(net),
        vat_gbp=Decimal(vat),
        gross_gbp=Decimal(gross),
    )


@pytest.mark.parametrize(
    ("net", "vat", "gross"),
    # In binary 0.1 + 0.2 is 0.30000000000000004, 400.15 + 80.03 480.17999999999995.
    [("0.10", "0.20", "0.30"), ("400.15", "80.03", "480.18")],
)
def test_a_sum_that_adds_up_to_the_penny_is_kept(net, vat, gross):
    assert version(net, vat, gross).pk


def test_a_sum_that_is_a_penny_out_is_refused():
    with pytest.raises(IntegrityError):
        version("0.10", "0.20", "0.31")
