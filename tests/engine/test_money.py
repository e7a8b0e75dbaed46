from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.money import pounds, share_out
from firm.engine.refusal import Refused

sums_gbp = st.decimals(-(10**7), 10**7, places=2)


# Source: HMRC VATREC12030, under 0.5p down, 0.5p and over up; VAT Notice 700 para 17.5
# (86.76p to the nearest penny is 87p). 118.50 would be rounding half to even.
@pytest.mark.parametrize(
    ("exact", "rounded"),
    [
        ("118.505", "118.51"),
        ("118.504999", "118.50"),
        ("0.8676", "0.87"),
        ("0.005", "0.01"),
        ("-118.505", "-118.51"),
    ],
)
def test_half_a_penny_goes_up(exact, rounded):
    assert pounds(exact) == Decimal(rounded)
    assert str(pounds(Decimal(exact))) == rounded


def test_nothing_is_never_minus_nothing():
    assert str(pounds("-0.001")) == "0.00"


@pytest.mark.parametrize(
    "nonsense", [0.1, True, None, "ten", "NaN", "Infinity", "1e40"]
)
def test_what_is_no_amount_is_refused_with_a_sentence(nonsense):
    with pytest.raises(Refused, match=r"pounds and pence.*\.$"):
        pounds(nonsense)


@given(sums_gbp)
def test_a_credit_cancels_its_charge(amount_gbp):
    assert pounds(amount_gbp) + pounds(-amount_gbp) == 0


@given(sums_gbp, st.lists(st.integers(1, 9999), min_size=1, max_size=40))
def test_shares_add_back_to_the_total(total_gbp, weights):
    assert sum(share_out(total_gbp, weights)) == total_gbp


@given(sums_gbp, st.lists(st.integers(0, 9999), min_size=1, max_size=40).filter(any))
def test_a_share_is_within_a_penny_of_its_exact_part(total_gbp, weights):
    for share, weight in zip(share_out(total_gbp, weights), weights, strict=True):
        assert abs(share - total_gbp * weight / sum(weights)) < Decimal("0.01")


# By hand: 0.05 over 1:1:2 is 1.25, 1.25, 2.5 pennies; floors 1, 1, 2 leave one penny,
# and the third line lost most.
def test_the_odd_penny_goes_where_most_was_lost():
    shares = share_out(Decimal("0.05"), [1, 1, 2])
    assert shares == [Decimal("0.01"), Decimal("0.01"), Decimal("0.03")]


@pytest.mark.parametrize("weights", [[], [0, 0], [1, -1], [2, -1]])
def test_sharing_over_nothing_is_refused(weights):
    with pytest.raises(Refused, match="nothing to share"):
        share_out(Decimal(10), weights)


def test_half_pennies_cannot_be_shared_out():
    with pytest.raises(Refused, match="whole pennies"):
        share_out(Decimal("10.005"), [1])
