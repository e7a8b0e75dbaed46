"""The worked examples W1 to W5 and W14: areas worked by hand, to 0.005.

Each sum is in the comments. The rules are RICS NRM2 (2nd edition, October 2021) section
28 and SMM7 M20: voids not exceeding 1.00 and 0.50 m² stay in, work not exceeding 600
and 300 mm wide is linear, voids at the boundary always come off. 0.50 m² was read in
lecture slides on internal finishes; the rest is from memory of the two books.
"""

from decimal import Decimal

import pytest

from quotes.engine.measurement import measure
from quotes.engine.measurement_values import (
    Chase,
    MeasureAnswer,
    Measurement,
    Opening,
    OwnRule,
    Patch,
    Reveal,
    Room,
    Surface,
    Wall,
)

TOLERANCE = Decimal("0.005")


def near(figure, expected):
    return abs(figure - Decimal(expected)) <= TOLERANCE


def reveal_run(answer: MeasureAnswer):
    return sum(reveal.length_m for reveal in answer.reveals)


def plain_bedroom():
    window = Opening(
        name="window",
        wall="A",
        width_mm=1200,
        height_mm=1050,
        reveal=Reveal(depth_mm=150),
    )
    door = Opening(name="door", kind="door", wall="B", width_mm=800, height_mm=2000)
    return Room(
        name="Bedroom",
        height_mm=2400,
        length_mm=4200,
        width_mm=3600,
        openings=(window, door),
    )


def chimney_room():
    return Room(
        name="Lounge",
        height_mm=2600,
        walls=(
            Wall(name="A", length_mm=4500),
            Wall(name="B", length_mm=1200),
            Wall(name="C", length_mm=350, turn_deg=-90),
            Wall(name="D", length_mm=1500, turn_deg=-90),
            Wall(name="E", length_mm=350),
            Wall(name="F", length_mm=1200),
            Wall(name="G", length_mm=4500),
            Wall(name="H", length_mm=3900),
        ),
        openings=(
            Opening(
                name="fire opening",
                kind="fireplace",
                wall="D",
                width_mm=600,
                height_mm=750,
            ),
            Opening(name="door", kind="door", wall="H", width_mm=800, height_mm=2000),
            Opening(
                name="window",
                wall="A",
                width_mm=1500,
                height_mm=1300,
                reveal=Reveal(depth_mm=200),
            ),
        ),
    )


def test_w1_plain_bedroom_agrees_under_both_rules():
    answer = measure(Measurement(rooms=(plain_bedroom(),)))
    totals = answer.totals
    # 2 x (4.20 + 3.60) = 15.60 m; x 2.40 = 37.44; less 1.60 and 1.26 = 34.58
    assert near(answer.closure[0].girth_m, "15.60")
    assert near(totals.through.walls_m2, "37.44")
    assert near(totals.nrm2.walls_m2, "34.58")
    assert near(totals.smm7.walls_m2, "34.58")
    # 1.20 + 2 x 1.05 = 3.30 m at 0.15 = 0.495 m2, narrow in both
    assert near(reveal_run(answer), "3.30")
    assert near(totals.true.reveals_m2, "0.495")
    assert near(totals.smm7.reveals_m, "3.30")
    # 34.58 + 0.495 + 15.12 = 50.195; through 37.44 + 15.12 = 52.56
    assert near(totals.true.ceilings_m2, "15.12")
    assert near(totals.true.total_m2, "50.195")
    assert near(totals.through.total_m2, "52.56")


def test_w2_window_between_the_thresholds_gives_two_answers():
    window = Opening(
        name="window",
        wall="A",
        width_mm=900,
        height_mm=600,
        reveal=Reveal(depth_mm=100, has_sill=True),
    )
    door = Opening(name="door", kind="door", wall="B", width_mm=700, height_mm=2000)
    hatch = Opening(name="loft hatch", kind="hatch", width_mm=550, height_mm=550)
    bathroom = Room(
        name="Bathroom",
        height_mm=2350,
        length_mm=2400,
        width_mm=1900,
        openings=(window, door),
        ceiling_openings=(hatch,),
    )
    answer = measure(Measurement(rooms=(bathroom,)))
    totals = answer.totals
    # 8.60 x 2.35 = 20.21; SMM7 less 1.40 and 0.54; NRM2 less 1.40 only
    assert near(totals.through.walls_m2, "20.21")
    assert near(totals.smm7.walls_m2, "18.27")
    assert near(totals.nrm2.walls_m2, "18.81")
    # 2.40 x 1.90 = 4.56 under both: the hatch of 0.3025 stays in
    assert near(totals.smm7.ceilings_m2, "4.56")
    assert near(totals.nrm2.ceilings_m2, "4.56")
    # 2 x (0.90 + 0.60) = 3.00 m at 0.10 = 0.30
    assert near(reveal_run(answer), "3.00")
    # 18.27 + 0.30 + (4.56 - 0.3025) = 22.8275; through 20.21 + 4.56 = 24.77
    assert near(totals.true.total_m2, "22.8275")
    assert near(totals.through.total_m2, "24.77")


def ladder(own_m2="2.00"):
    sizes = {
        "A": (600, 600),
        "B": (500, 1000),
        "C": (900, 600),
        "D": (1000, 1000),
        "E": (1250, 840),
    }
    within = tuple(
        Opening(name=name, width_mm=width, height_mm=height)
        for name, (width, height) in sizes.items()
    )
    cupboard = Opening(
        name="F", kind="opening", width_mm=450, height_mm=900, touches_edge=True
    )
    wall = Surface(
        name="Wall", length_mm=9000, height_mm=2500, openings=(*within, cupboard)
    )
    rule = OwnRule(ignore_up_to_m2=Decimal(own_m2))
    return measure(Measurement(surfaces=(wall,), own_rule=rule)).totals


def test_w3_a_void_exactly_at_the_threshold_stays_in():
    totals = ladder()
    # 9.00 x 2.50 = 22.50; every void 3.855 -> 18.645
    assert totals.through.walls_m2 == Decimal("22.5")
    assert totals.true.walls_m2 == Decimal("18.645")
    # SMM7: 0.54 + 1.00 + 1.05 + 0.405 = 2.995; B is exactly 0.50
    assert totals.smm7.walls_m2 == Decimal("19.505")
    # NRM2: 1.05 + 0.405 = 1.455; D is exactly 1.00
    assert totals.nrm2.walls_m2 == Decimal("21.045")
    # own 2.00: 0.405 at the floor only
    assert totals.own.walls_m2 == Decimal("22.095")


def test_w3_a_threshold_of_nothing_takes_every_void_off():
    assert ladder(own_m2="0").own.walls_m2 == Decimal("18.645")


def partial_walls():
    radiator = Opening(
        name="radiator",
        kind="left_out",
        width_mm=1200,
        height_mm=600,
        sill_mm=150,
    )
    return measure(
        Measurement(
            surfaces=(
                Surface(name="A", length_mm=4000, height_mm=2400, openings=(radiator,)),
                Surface(name="B", length_mm=3500, height_mm=1200, feathered_mm=3500),
                Surface(name="C", length_mm=2100, height_mm=450),
                Surface(name="D", length_mm=2800, height_mm=250),
            )
        )
    )


def test_w4_narrow_strips_move_from_area_to_metres():
    answer = partial_walls()
    totals = answer.totals
    # SMM7: 9.60 - 0.72 = 8.88, + 4.20 + 2.10 x 0.45 = 0.945 -> 14.025; D 2.80 m
    assert near(totals.smm7.walls_m2, "14.025")
    assert near(totals.smm7.narrow_m, "2.80")
    # NRM2: 9.60 + 4.20 = 13.80; C 2.10 + D 2.80 = 4.90 m
    assert near(totals.nrm2.walls_m2, "13.80")
    assert near(totals.nrm2.narrow_m, "4.90")
    # In truth 8.88 + 4.20 + 0.945 + 0.70 = 14.725
    assert near(totals.true.total_m2, "14.725")
    assert near(answer.joints[0].length_m, "3.50")


def test_w4_each_surface_says_what_each_rule_makes_of_it():
    surfaces = {surface.name: surface for surface in partial_walls().surfaces}
    by_rule = {
        (name, area.basis): area
        for name, surface in surfaces.items()
        for area in surface.by_basis
    }
    assert by_rule["A", "smm7"].area_m2 == Decimal("8.88")
    assert by_rule["A", "nrm2"].area_m2 == Decimal("9.6")
    assert by_rule["C", "smm7"].area_m2 == Decimal("0.945")
    assert by_rule["C", "nrm2"].area_m2 == 0
    assert by_rule["C", "nrm2"].narrow_m == Decimal("2.1")
    assert by_rule["D", "smm7"].narrow_m == Decimal("2.8")


def test_w5_chimney_breast_in_girth_reading():
    answer = measure(Measurement(rooms=(chimney_room(),)))
    totals = answer.totals
    # 2 x (4.50 + 3.90) + 2 x 0.35 = 17.50 m; x 2.60 = 45.50
    assert near(answer.closure[0].girth_m, "17.50")
    assert near(totals.through.walls_m2, "45.50")
    # 17.55 - 1.50 x 0.35 = 17.025: the breast is a want at the ceiling's edge
    assert near(totals.true.ceilings_m2, "17.025")
    # less 0.45 (hearth, boundary), 1.60, 1.95 = 41.50
    assert near(totals.smm7.walls_m2, "41.50")
    assert near(totals.nrm2.walls_m2, "41.50")
    assert totals.nrm2.narrow_m == 0
    # 1.50 + 2 x 1.30 = 4.10 m at 0.20 = 0.82; 41.50 + 0.82 + 17.025 = 59.345
    assert near(reveal_run(answer), "4.10")
    assert near(totals.true.total_m2, "59.345")


def test_w5_chimney_breast_read_face_by_face():
    totals = measure(Measurement(rooms=(chimney_room(),))).totals
    # returns 2 x 0.35 x 2.60 = 1.82; NRM2 41.50 - 1.82 = 39.68 and 5.20 m
    assert near(totals.nrm2_face.walls_m2, "39.68")
    assert near(totals.nrm2_face.narrow_m, "5.20")
    # SMM7: 0.35 is over 0.30
    assert near(totals.smm7_face.walls_m2, "41.50")
    assert totals.smm7_face.narrow_m == 0


def test_w5_breast_wants_a_bead_on_each_outside_corner():
    beads = measure(Measurement(rooms=(chimney_room(),))).beads
    corners = [bead for bead in beads if bead.kind == "corner"]
    # 2 x 2.60 = 5.20 m
    assert [bead.pieces_mm for bead in corners] == [(2600,), (2600,)]
    assert "C and D" in corners[0].where


def test_w6_splayed_bay_walked_at_45_degrees():
    # 4.00 m wall with a bay: cheeks 0.95 at 45 degrees, front 1.80. Mouth
    # 1.80 + 2 x 0.6718 = 3.1435, so 0.428 is left at either side.
    bay = Room(
        name="Front room",
        height_mm=2550,
        walls=(
            Wall(name="A", length_mm=4800),
            Wall(name="B", length_mm=428, turn_deg=-45),
            Wall(name="C", length_mm=950, turn_deg=45),
            Wall(name="D", length_mm=1800, turn_deg=45),
            Wall(name="E", length_mm=950, turn_deg=-45),
            Wall(name="F", length_mm=428),
            Wall(name="G", length_mm=4800),
            Wall(name="H", length_mm=4000),
        ),
    )
    answer = measure(Measurement(rooms=(bay,)))
    assert near(answer.closure[0].girth_m, "18.1565")
    assert near(answer.totals.through.walls_m2, "46.2991")
    # (1.80 + 3.1435) / 2 x 0.6718 = 1.6604; + 4.80 x 4.00 = 20.8604
    assert near(answer.totals.true.ceilings_m2, "20.8604")


def test_w10_ceiling_over_three_and_a_half_metres_has_a_band():
    window = Opening(
        name="window",
        wall="A",
        width_mm=1800,
        height_mm=2400,
        reveal=Reveal(depth_mm=350),
    )
    second = Opening(
        name="second window",
        wall="C",
        width_mm=1800,
        height_mm=2400,
        reveal=Reveal(depth_mm=350),
    )
    door = Opening(name="door", kind="door", wall="B", width_mm=1500, height_mm=2100)
    hall = Room(
        name="Hall",
        height_mm=4200,
        length_mm=6000,
        width_mm=5000,
        openings=(window, second, door),
    )
    answer = measure(Measurement(rooms=(hall,)))
    assert [band.band for band in answer.height_bands] == ["3.50-5.00"]
    # 92.40 - 3.15 - 2 x 4.32 = 80.61; reveals 13.20 m at 0.35 = 4.62
    assert near(answer.totals.smm7.total_m2, "115.23")
    assert near(answer.totals.nrm2.total_m2, "110.61")
    assert near(answer.totals.nrm2.reveals_m, "13.20")


def test_w13_an_l_shape_has_the_girth_of_its_box():
    kitchen = Room(
        name="Kitchen",
        height_mm=2400,
        walls=(
            Wall(name="A", length_mm=5400),
            Wall(name="B", length_mm=3200),
            Wall(name="C", length_mm=3300, turn_deg=-90),
            Wall(name="D", length_mm=1800),
            Wall(name="E", length_mm=2100),
            Wall(name="F", length_mm=5000),
        ),
        openings=(
            Opening(
                name="patio door", kind="door", wall="A", width_mm=1800, height_mm=2100
            ),
            Opening(
                name="window",
                wall="B",
                width_mm=1200,
                height_mm=1000,
                reveal=Reveal(depth_mm=150),
            ),
            Opening(
                name="tiles", kind="left_out", wall="F", width_mm=3600, height_mm=550
            ),
        ),
    )
    answer = measure(Measurement(rooms=(kitchen,)))
    totals = answer.totals
    # girth 20.80, x 2.40 = 49.92; ceiling 27.00 - 5.94 = 21.06
    assert near(answer.closure[0].girth_m, "20.80")
    # less 3.78, 1.20 and 1.98 = 42.96 under both
    assert near(totals.nrm2.walls_m2, "42.96")
    assert near(totals.smm7.walls_m2, "42.96")
    # 42.96 + 0.48 + 21.06 = 64.50; through 49.92 + 21.06 = 70.98
    assert near(totals.true.total_m2, "64.50")
    assert near(totals.through.total_m2, "70.98")


def test_w14_chases_and_patches_are_counted_apart():
    good = measure(
        Measurement(
            chases=(
                Chase(name="drops", length_mm=1200, width_mm=50, depth_mm=25, count=6),
                Chase(name="runs", length_mm=2400, width_mm=50, depth_mm=25, count=2),
            ),
            patches=(
                Patch(name="by the door", length_mm=300, width_mm=400),
                Patch(name="over the arch", length_mm=900, width_mm=500),
                Patch(name="under the stair", length_mm=1100, width_mm=1000),
                Patch(name="old hatch", length_mm=2000, width_mm=800),
            ),
            back_boxes=9,
        )
    ).making_good
    # 6 x 1.20 + 2 x 2.40 = 12.00 m; x 0.050 x 0.025 = 0.015 m3; 1.10 + 1.60 = 2.70
    assert good.chases_m == Decimal(12)
    assert good.chase_fill_m3 == Decimal("0.015")
    assert good.back_boxes == 9
    assert (good.patches_small, good.patches_middling) == (1, 1)
    assert good.patches_m2 == Decimal("2.7")


@pytest.mark.parametrize(
    ("sentence", "place"),
    [
        ("Bedroom wall A 4.20 × 2.40 = 10.08, less window 1.26 = 8.82 m².", 0),
        ("Bedroom wall B 3.60 × 2.40 = 8.64, less door 1.60 = 7.04 m².", 1),
        ("Bedroom ceiling 4.20 × 3.60 = 15.12 m².", 4),
    ],
)
def test_each_surface_shows_its_sum(sentence, place):
    answer = measure(Measurement(rooms=(plain_bedroom(),)))
    assert answer.surfaces[place].working[0] == sentence
    assert sentence in answer.working


@pytest.mark.parametrize(
    ("height_mm", "band"),
    # Over 3.50 m in stages of 1.50 m, both ends of a stage belonging to it.
    [(3500, ""), (3501, "3.50-5.00"), (5000, "3.50-5.00"), (5001, "5.00-6.50")],
)
def test_height_bands_change_just_over_their_limit(height_mm, band):
    room = Room(name="Hall", height_mm=height_mm, length_mm=6000, width_mm=5000)
    answer = measure(Measurement(rooms=(room,)))
    assert answer.surfaces[-1].height_band == band


def test_a_staircase_is_described_as_such_and_carries_no_band():
    # W9: 5.00 m above the floor below, yet no band.
    well = Room(
        name="Stairwell",
        height_mm=5000,
        length_mm=4200,
        width_mm=950,
        is_staircase=True,
    )
    answer = measure(Measurement(rooms=(well,)))
    assert answer.surfaces[-1].height_band == "staircase area"
    assert answer.height_bands == ()
