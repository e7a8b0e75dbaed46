from datetime import date
from decimal import Decimal

import pytest

from firm.engine.refusal import Refused
from firm.engine.tax import VAT_RATES, vat_rate_pct


# Source: VATA 1994 ss. 2, 29A, 30; 20 per cent from 4 January 2011 (Finance (No. 2)
# Act 2010 s. 3).
@pytest.mark.parametrize(
    ("kind", "on", "rate"),
    [
        ("standard", date(2011, 1, 4), 20),
        ("standard", date(2026, 11, 24), 20),
        ("reduced", date(2026, 11, 24), 5),
        ("zero", date(2026, 11, 24), 0),
    ],
)
def test_the_rate_in_force_on_a_day(kind, on, rate):
    assert vat_rate_pct(kind, on) == Decimal(rate)


def test_a_day_before_the_table_is_refused_and_not_guessed():
    with pytest.raises(Refused, match="no standard VAT rate on file for 2011-01-03"):
        vat_rate_pct("standard", date(2011, 1, 3))


def test_an_unknown_kind_is_refused_with_the_three_known_ones():
    with pytest.raises(Refused, match="standard, reduced or zero; 'luxury'"):
        vat_rate_pct("luxury", date(2026, 1, 1))


def test_rows_of_one_kind_never_overlap():
    for row in VAT_RATES:
        others = [r for r in VAT_RATES if r.kind == row.kind and r is not row]
        assert row.source
        assert all(o.until_on < row.from_on or row.until_on < o.from_on for o in others)
