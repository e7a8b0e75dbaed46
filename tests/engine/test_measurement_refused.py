"""Sizes that cannot be: each refusal names the wall or opening, the figure, the field.

Every case starts from a room that is measured and changes one thing.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from firm.engine.refusal import Refused
from quotes.engine.measurement import measure
from quotes.engine.measurement_values import (
    Chase,
    Measurement,
    Opening,
    OwnRule,
    Patch,
    Reveal,
    Room,
    Surface,
)

WINDOW = Opening(
    name="window",
    wall="A",
    width_mm=1200,
    height_mm=1050,
    left_mm=500,
    sill_mm=900,
    reveal=Reveal(depth_mm=150),
)
ROOM = Room(
    name="Bedroom", height_mm=2400, length_mm=4200, width_mm=3600, openings=(WINDOW,)
)


def measured(room=ROOM, **others):
    return measure(Measurement(rooms=(room,), **others))


def with_window(**changes):
    return replace(ROOM, openings=(replace(WINDOW, **changes),))


def test_the_room_itself_is_measured():
    assert measured().totals.true.total_m2 > 0


@pytest.mark.parametrize(
    ("changes", "words", "field"),
    [
        ({"width_mm": 4300}, "more than the 4,200 mm of Bedroom wall A", "width_mm"),
        ({"height_mm": 2500}, "more than the 2,400 mm", "height_mm"),
        ({"width_mm": 0}, "window in Bedroom wall A is 0 mm", "width_mm"),
        ({"height_mm": -5}, "is -5 mm", "height_mm"),
        ({"width_mm": 100_001}, "over 100 m", "width_mm"),
        ({"left_mm": 3100}, "window at 3,100 mm does not lie", "left_mm"),
        ({"left_mm": -1}, "does not lie within", "left_mm"),
        ({"sill_mm": 1400}, "window at 1,400 mm does not lie", "sill_mm"),
        ({"wall": "E"}, "wall “E”, which Bedroom does not have", "wall"),
        ({"reveal": Reveal(depth_mm=0)}, "reveal of window", "reveal.depth_mm"),
    ],
)
def test_an_opening_that_cannot_be_is_refused(changes, words, field):
    with pytest.raises(Refused) as refusal:
        measured(with_window(**changes))
    assert words in str(refusal.value)
    assert refusal.value.field == f"rooms[0].openings[0].{field}"


def test_openings_adding_up_to_more_than_the_wall_are_refused():
    # Wall A 4.20 x 2.40 = 10.08; two of 2.60 x 2.00 = 10.40.
    big = replace(WINDOW, width_mm=2600, height_mm=2000, left_mm=None, sill_mm=None)
    assert measured(replace(ROOM, openings=(big,)))
    with pytest.raises(Refused, match=r"\(10.40 m² of 10.08 m²\)"):
        measured(replace(ROOM, openings=(big, replace(big, name="other"))))


def test_openings_lying_over_each_other_are_refused():
    beside = replace(WINDOW, name="radiator", left_mm=1700)
    assert measured(replace(ROOM, openings=(WINDOW, beside)))
    over = replace(beside, left_mm=1699)
    with pytest.raises(Refused, match="window and radiator in Bedroom wall A"):
        measured(replace(ROOM, openings=(WINDOW, over)))


def test_a_radiator_under_a_window_is_no_overlap():
    radiator = Opening(
        name="radiator",
        kind="left_out",
        wall="A",
        width_mm=1200,
        height_mm=600,
        left_mm=500,
        sill_mm=150,
    )
    # 10.08 - 1.26 - 0.72 = 8.10
    answer = measured(replace(ROOM, openings=(WINDOW, radiator)))
    assert answer.surfaces[0].net_m2 == Decimal("8.1")


def test_a_hatch_larger_than_its_ceiling_is_refused():
    hatch = Opening(name="hatch", kind="hatch", width_mm=600, height_mm=600)
    assert measured(replace(ROOM, ceiling_openings=(hatch,)))
    wide = replace(hatch, width_mm=4300)
    with pytest.raises(Refused, match="of Bedroom ceiling"):
        measured(replace(ROOM, ceiling_openings=(wide,)))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"height_mm": 0}, "The height of Bedroom is 0 mm"),
        ({"length_mm": -4200}, "The length of Bedroom is -4200 mm"),
        ({"width_mm": 100_001}, "The width of Bedroom is 100,001 mm, over 100 m"),
    ],
)
def test_a_room_that_cannot_be_is_refused(changes, words):
    with pytest.raises(Refused) as refusal:
        measured(replace(ROOM, **changes))
    assert words in str(refusal.value)


def test_two_rooms_of_one_name_are_refused():
    with pytest.raises(Refused, match="Two of them are called Bedroom"):
        measure(Measurement(rooms=(ROOM, ROOM)))


def test_nothing_to_measure_is_refused():
    with pytest.raises(Refused, match="nothing to measure"):
        measure(Measurement())


@pytest.mark.parametrize(
    ("others", "words"),
    [
        ({"own_rule": OwnRule(ignore_up_to_m2=Decimal(-1))}, "less than nothing"),
        ({"own_rule": OwnRule(ignore_up_to_m2=Decimal("NaN"))}, "less than nothing"),
        ({"own_rule": OwnRule(narrow_up_to_mm=-1)}, "less than nothing"),
        ({"tolerance_mm": -1}, "gap allowed"),
        ({"back_boxes": -1}, "back boxes"),
        ({"surfaces": (Surface(name="S", length_mm=0, height_mm=1),)}, "length of S"),
        (
            {
                "surfaces": (
                    Surface(name="S", length_mm=9, height_mm=1, feathered_mm=-1),
                )
            },
            "feathered joint of S",
        ),
        (
            {"chases": (Chase(name="C", length_mm=9, width_mm=0, depth_mm=9),)},
            "width of C",
        ),
        (
            {"patches": (Patch(name="P", length_mm=9, width_mm=9, count=0),)},
            "P is counted 0 times",
        ),
    ],
)
def test_other_figures_that_cannot_be_are_refused(others, words):
    assert measured()
    with pytest.raises(Refused, match=words):
        measured(**others)


def test_an_opening_whose_sill_was_not_taken_is_not_said_to_overlap():
    loose = replace(WINDOW, name="second", sill_mm=None)
    # 10.08 - 2 x 1.26 = 7.56
    answer = measured(replace(ROOM, openings=(WINDOW, loose)))
    assert answer.surfaces[0].net_m2 == Decimal("7.56")
