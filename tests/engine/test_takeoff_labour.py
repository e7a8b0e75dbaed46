from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quotes.engine.takeoff import (
    BeadNeed,
    Gang,
    OperationNeed,
    Surface,
    TakeOff,
    take_off,
)
from quotes.engine.takeoff_beads import cut_beads

SOLO = Gang(name="alone", plasterers=1, labourers=0)


def doing(code, quantity, *, kind="wall", **changes):
    return Surface(
        name=f"{code} here",
        kind=kind,
        area_m2=Decimal(quantity),
        length_m=Decimal(quantity),
        operations=(OperationNeed(code=code),),
        **changes,
    )


def ask(*surfaces, **changes):
    return take_off(TakeOff(surfaces=surfaces, **changes))


# A bedroom 4.20 × 3.60 × 2.40 skimmed by 1 + 1, planning set P1 (common practice):
# 0.22 × 15.12 + 0.18 × 34.58 + 0.15 × 3.30 = 3.3264 + 6.2244 + 0.495 = 10.0458 h;
# with set-up 0.25 and two clear-downs 0.5 that is 10.7958 of 15 h. One day holds 7.5.
def test_a_bedroom_skimmed_by_a_pair_takes_two_days():
    answer = ask(
        doing("SKC", "15.12", kind="ceiling"),
        doing("SKW", "34.58"),
        doing("RVS", "3.30", kind="reveal"),
    )
    on_surfaces = [line for line in answer.labour if line.surface != "whole job"]
    assert sum(line.plasterer_h for line in on_surfaces) == Decimal("10.0458")
    assert answer.plasterer_h == Decimal("10.7958")
    assert answer.days == 2


# Days rule at its edge, one trade: 0.18 × q + 0.25 + 0.25 ≤ 7.5 holds to q = 38.888….
@pytest.mark.parametrize(("area_m2", "days"), [("38.88", 1), ("38.89", 2)])
def test_the_last_quarter_hour_makes_another_day(area_m2, days):
    assert ask(doing("SKW", area_m2)).days == days


# Hacking is the labourer's: 0.40 × 20 = 8 h, set-up 0.5; a day leaves him 7.0 h.
def test_the_labourers_hours_can_decide_the_days():
    answer = ask(doing("HKG", "20"))
    assert (answer.labourer_h, answer.days) == (Decimal("9.5"), 2)


# Two plasterers on 70 m²: 12.6 + 0.25 = 12.85 h; a day leaves 15 − 0.25 = 14.75 h.
def test_two_plasterers_halve_the_day():
    assert ask(doing("SKW", "70"), gang=Gang(plasterers=2)).days == 1


@pytest.mark.parametrize(
    ("code", "alone_h"),
    [
        ("SKW", "2.43"),  # 10 × 0.18 × 1.35
        ("UCW", "3.00"),  # 10 × 0.20 × 1.50
        ("BDC", "4.00"),  # two people's work for one: 10 × (0.20 + 0.20)
        ("HKG", "4.00"),  # 10 × 0.40, nobody else is there
    ],
)
def test_a_plasterer_alone_is_slower(code, alone_h):
    line = ask(doing(code, "10"), gang=SOLO).labour[0]
    assert (line.plasterer_h, line.labourer_h) == (Decimal(alone_h), 0)


@pytest.mark.parametrize(
    ("changes", "hours"),
    [
        ({}, "1.8"),
        ({"height_mm": 3000}, "1.8"),
        ({"height_mm": 3001}, "1.98"),  # × 1.10
        ({"height_mm": 3501}, "2.25"),  # × 1.25
        ({"circumstances": ("stairwell",)}, "2.34"),  # × 1.30
        ({"circumstances": ("small_room",)}, "2.16"),  # × 1.20
        ({"circumstances": ("curved",)}, "3.15"),  # × 1.75
        ({"circumstances": ("arch",)}, "3.6"),  # × 2
        ({"circumstances": ("stairwell",), "height_mm": 4000}, "2.925"),
    ],
)
def test_height_and_awkward_places_slow_the_work(changes, hours):
    assert ask(doing("SKW", "10", **changes)).labour[0].plasterer_h == Decimal(hours)


def test_a_small_patch_takes_half_an_hour_at_least():
    assert ask(doing("PAT", "0.4")).labour[0].plasterer_h == Decimal("0.5")
    assert ask(doing("PAT", "2")).labour[0].plasterer_h == Decimal("0.6")


def test_the_range_of_an_operation_is_the_printed_one():
    line = ask(doing("SKW", "10")).labour[0]
    # 10 × 0.13 and 10 × 0.25, the labourer's 0.9 h beside both
    assert (line.low_h, line.high_h) == (Decimal("2.2"), Decimal("3.4"))


# A breast with two arrises of 2.60 (0.10 h a metre): two 3.0 m bars, 5.2 m, 0.52 h.
def test_beads_bring_their_own_fixing_time():
    beads = (BeadNeed(product="M-BEAD-ANGLE", arrises_mm=(2600, 2600)),)
    answer = ask(doing("SKW", "10"), beads=beads)
    fixing = next(line for line in answer.labour if line.operation == "BAN")
    lengths = next(m for m in answer.materials if m.code == "M-BEAD-ANGLE")
    assert fixing.plasterer_h == Decimal("0.52")
    assert (lengths.packs, lengths.pack_size, lengths.exact) == (
        2,
        Decimal(3),
        Decimal("5.2"),
    )


# A column 4 × 2.70, a pier 2 × 2.70 and a beam 2 × 4.00 (24.2 m in all), by hand:
# 2 bars for the 3.0 m pieces of the beam, 6 for the 2.70s, and the two 1.00 m
# remainders share one bought as 2.4 m.
def test_column_pier_and_beam_cut_by_the_rule():
    arrises = (2700,) * 6 + (4000,) * 2
    bars = cut_beads((BeadNeed(product="M-BEAD-ANGLE", arrises_mm=arrises),))
    assert sorted(bar.stock_mm for bar in bars) == [2400] + [3000] * 8
    assert bars[-1].cuts_mm == (1000, 1000)
    assert bars[-1].offcut_mm == 400


@given(st.lists(st.integers(1, 12_000), min_size=1, max_size=30))
def test_bars_hold_every_arris_and_no_joint_under_three_metres(arrises):
    bars = cut_beads((BeadNeed(product="M-BEAD-STOP", arrises_mm=tuple(arrises)),))
    cuts = [cut for bar in bars for cut in bar.cuts_mm]
    assert sum(cuts) == sum(arrises)
    assert all(cuts.count(a) >= arrises.count(a) for a in arrises if a <= 3000)
    assert all(bar.offcut_mm == bar.stock_mm - sum(bar.cuts_mm) >= 0 for bar in bars)
