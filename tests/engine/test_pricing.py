from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from quotes.engine.pricing import Hours, Pricing, Purchase, WorkLine, price

DAY = date(2026, 11, 24)


def line(what="skim", quantity="20", rate="14.20", **changes):
    whole = {
        "room": "Hall",
        "what": what,
        "quantity": Decimal(quantity),
        "unit": "m²",
        "rate_gbp": None if rate is None else Decimal(rate),
    }
    return WorkLine(**(whole | changes))


def hours(likely="10", low="7", high="13", rate="20", what="skim"):
    return Hours(
        what=what,
        hours=Decimal(likely),
        low_hours=Decimal(low),
        high_hours=Decimal(high),
        rate_gbp=Decimal(rate),
    )


def by_rates(*lines, **changes):
    return Pricing(way="rates", lines=lines, on=DAY, **changes)


def from_cost(*lines, **changes):
    whole = {
        "hours": (hours(), hours("6", "2", "10", what="beads")),
        "purchases": (Purchase(item="finish", packs=4, pack_gbp=Decimal("10.00")),),
        "overhead_pct": Decimal(10),
        "margin_pct": Decimal(20),
    }
    return Pricing(way="cost", lines=lines, on=DAY, **(whole | changes))


# By hand: 86.5 m² × 14.20 = 1228.30; 20 % = 245.66; gross 1473.96.
def test_rates_times_quantities_and_vat_once():
    answer = price(by_rates(line(quantity="86.5")))
    assert answer.net_gbp == Decimal("1228.30")
    assert answer.vat_gbp == Decimal("245.66")
    assert answer.gross_gbp == Decimal("1473.96")


# By hand: labour 16 h × 20 = 320, materials 40, cost 360, overhead 36, and
# 396 ÷ 0.80 = 495.00, of which 99 is a fifth. VAT 99.00.
def test_margin_is_a_share_of_the_price():
    answer = price(from_cost(line(weight=Decimal(1))))
    assert (answer.cost_gbp, answer.overhead_gbp) == (Decimal(360), Decimal(36))
    assert (answer.net_gbp, answer.margin_gbp) == (Decimal(495), Decimal(99))
    assert answer.gross_gbp == Decimal("594.00")


# 3-4-5: deviations 3 and 4 hours make 5. Cost 320 + 40 = 360, ± 5 h × 20 = 100.
def test_the_band_adds_deviations_by_their_squares():
    answer = price(from_cost(line()))
    band, cost = answer.hours_band, answer.cost_band_gbp
    assert (band.low, band.likely, band.high) == (11, 16, 21)
    assert (cost.low, cost.likely, cost.high) == (260, 360, 460)
    assert answer.reasons[0] == "beads may take 2.0 to 10.0 h."


def test_a_price_from_cost_is_shared_by_weight():
    heavy, light = line(weight=Decimal(3)), line(weight=Decimal(1))
    nets = [priced.net_gbp for priced in price(from_cost(heavy, light)).lines]
    assert nets == [Decimal("371.25"), Decimal("123.75")]  # 495 by 3 : 1


def test_lines_without_weight_share_alike():
    nets = [priced.net_gbp for priced in price(from_cost(line(), line())).lines]
    assert nets == [Decimal("247.50"), Decimal("247.50")]


# 4 × 14.20 = 56.80 is under 180; both lines keep their proportion of 1 : 3.
def test_a_small_job_costs_the_minimum_charge():
    small = by_rates(line(quantity="1"), line(quantity="3"), minimum_gbp=Decimal(180))
    answer = price(small)
    assert answer.is_minimum_applied
    assert [each.net_gbp for each in answer.lines] == [Decimal(45), Decimal(135)]
    enough = price(replace(small, minimum_gbp=Decimal("56.80")))
    assert not enough.is_minimum_applied


# VAT rounds once on the sum: 3 × 0.13 = 0.39, 20 % = 0.078 → 0.08; line by line it
# would be 3 × 0.03 = 0.09. The reduced line: 20 × 5 = 100, 5 % = 5.
def test_vat_is_worked_once_for_each_rate():
    pennies = [line(quantity="1", rate="0.13") for _ in range(3)]
    answer = price(by_rates(*pennies, line(rate="5", vat_kind="reduced")))
    assert [(v.kind, v.vat_gbp) for v in answer.vat] == [
        ("standard", Decimal("0.08")),
        ("reduced", Decimal("5.00")),
    ]


def test_a_firm_that_is_not_registered_charges_no_vat():
    answer = price(by_rates(line(), is_vat_registered=False))
    assert (answer.vat, answer.gross_gbp) == ((), answer.net_gbp)
    assert any("not VAT registered" in sentence for sentence in answer.working)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"lines": ()}, "lines"),
        ({"lines": (line(rate=None),)}, "lines[0].rate_gbp"),
        ({"lines": (line(quantity="-1"),)}, "lines[0]"),
        ({"margin_pct": Decimal(100)}, "margin_pct"),
        ({"overhead_pct": Decimal(-1)}, "overhead_pct"),
        ({"minimum_gbp": Decimal(-1)}, "minimum_gbp"),
        ({"hours": (hours(low="11"),)}, "hours[0]"),
        (
            {"purchases": (Purchase(item="x", packs=-1, pack_gbp=Decimal(1)),)},
            "purchases[0]",
        ),
    ],
)
def test_a_price_that_cannot_be_is_refused(changes, field):
    sound = by_rates(line())
    assert price(sound).net_gbp
    with pytest.raises(Refused) as refusal:
        price(replace(sound, **changes))
    assert refusal.value.field == field
    assert str(refusal.value).endswith(".")


amounts = st.decimals("0.01", "5000", places=2)


@given(st.lists(amounts, min_size=1, max_size=12), amounts)
def test_lines_add_up_to_the_net_to_the_penny(weights, minimum_gbp):
    lines = [line(weight=weight) for weight in weights]
    answer = price(from_cost(*lines, minimum_gbp=minimum_gbp))
    assert sum(each.net_gbp for each in answer.lines) == answer.net_gbp
    assert answer.net_gbp >= minimum_gbp
    assert answer.gross_gbp == answer.net_gbp + answer.vat_gbp


@given(st.lists(st.tuples(amounts, amounts, amounts), min_size=1, max_size=8))
def test_the_likely_cost_lies_inside_its_band(triples):
    work = tuple(hours(b, a, c) for a, b, c in map(sorted, triples))
    band = price(from_cost(line(), hours=work)).cost_band_gbp
    assert band.low <= band.likely <= band.high
