"""What goes on a surface: the rows of the trade's table, its cautions and its stops.

Expected layers and limits are the table's own (common practice, and where it says so:
NHBC 9.2, model clauses M20, BRE Digest 251, Approved Document A 2C30), read off the
published page and not off the code.
"""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from firm.engine.trade.backgrounds import BACKGROUNDS, BY_CODE
from firm.engine.trade.cautions import BY_CODE as CAUTION_BY_CODE
from firm.engine.trade.coats import COATS
from quotes.engine.specification import specify
from quotes.engine.specification_values import Specification, SpecifySurface


def found(surface, **building):
    return specify(Specification(surfaces=(surface,), **building)).surfaces[0]


def wall(background, **facts):
    return SpecifySurface(name="Wall", background=background, **facts)


def laid(specified):
    return [
        (layer.kind, layer.product, layer.thickness_mm)
        for layer in specified.layers
        if layer.product
    ]


def codes(specified):
    return {caution.code for caution in specified.cautions}


ROWS = {
    # Fletton brick draws: seal 1:4, undercoat plaster 11, finish 2.
    "B01": [
        ("preparation", "M-PVA", None),
        ("undercoat", "M-UND", 11),
        ("finish", "M-FIN", 2),
    ],
    # Dense block, moderate: brushed and damped only, then 11 + 2.
    "B03": [("undercoat", "M-UND", 11), ("finish", "M-FIN", 2)],
    # Aerated block: suction killed by primer, never soaked, 11 + 2.
    "B04": [
        ("preparation", "M-PVA", None),
        ("undercoat", "M-UND", 11),
        ("finish", "M-FIN", 2),
    ],
    # Painted plaster: grit primer, no undercoat where flat, finish alone.
    "B06": [("preparation", "M-GRIT", None), ("finish", "M-FIN", 2)],
    # Bare gypsum: PVA seal and tacky second coat, finish alone.
    "B07": [("preparation", "M-PVA", None), ("finish", "M-FIN", 2)],
    # New board: joints taped, no PVA, finish alone.
    "B08": [("preparation", "M-TAPE", None), ("finish", "M-FIN", 2)],
}


@pytest.mark.parametrize(("background", "layers"), ROWS.items(), ids=ROWS)
def test_usual_suction_gives_the_tables_layers(background, layers):
    assert laid(found(wall(background))) == layers


def test_low_suction_block_takes_bonding_over_grit():
    # Table 2.3: B03 (low) bonding undercoat 11, not more than 11 a pass.
    assert laid(found(wall("B03", suction_s=150))) == [
        ("preparation", "M-GRIT", None),
        ("undercoat", "M-BOND", 11),
        ("finish", "M-FIN", 2),
    ]


@pytest.mark.parametrize(
    ("seconds", "suction"),
    [(0, "high"), (29, "high"), (30, "moderate"), (120, "moderate"), (121, "low")],
)
def test_the_water_test_changes_at_half_a_minute_and_two(seconds, suction):
    assert found(wall("B03", suction_s=seconds)).suction == suction


def test_the_site_test_wins_over_class_and_habit():
    surface = wall("B01", suction="low", suction_s=10)
    assert found(surface).suction == "high"
    assert found(replace(surface, suction_s=None)).suction == "low"
    assert found(wall("B01")).suction == "high"


def test_paint_turns_bare_plaster_into_painted_plaster():
    painted = found(wall("B07", is_painted=True))
    assert painted.background.startswith("B06")
    assert painted.layers[1].product == "M-GRIT"


def test_painted_brick_is_primed_with_grit_and_takes_bonding():
    layers = laid(found(wall("B01", is_painted=True)))
    assert layers[0][1] == "M-GRIT"
    assert layers[1][1] == "M-BOND"


@pytest.mark.parametrize(
    ("out_of_true_mm", "undercoat_mm"), [(3, None), (4, 4), (10, 10), (25, 25)]
)
def test_an_old_wall_out_of_true_gets_an_undercoat(out_of_true_mm, undercoat_mm):
    layers = found(wall("B07", out_of_true_mm=out_of_true_mm)).layers
    thickness = [x.thickness_mm for x in layers if x.kind == "undercoat"]
    assert thickness == ([] if undercoat_mm is None else [undercoat_mm])


def test_a_thick_undercoat_goes_on_in_passes():
    # B01: 20 mm at not more than 13 a pass is two; B04: 12 at 11 is two.
    assert found(wall("B01", out_of_true_mm=20)).layers[-2].coats == 2
    assert found(wall("B04", out_of_true_mm=12)).layers[-2].coats == 2


def test_aerated_block_carries_no_more_than_twenty():
    assert found(wall("B04", out_of_true_mm=20)).stop == ""
    assert "20 mm" in found(wall("B04", out_of_true_mm=21)).stop


def test_over_twenty_five_out_of_true_is_boarded():
    assert found(wall("B01", out_of_true_mm=25)).stop == ""
    stopped = found(wall("B01", out_of_true_mm=26))
    assert "board it" in stopped.stop
    assert stopped.layers == ()


def test_a_ceiling_carries_ten_millimetres_in_all():
    # 8 + 2: BS 8000-10/BS 5492 from memory.
    ceiling = wall("B07", is_ceiling=True, out_of_true_mm=8)
    total_mm = sum(layer.thickness_mm or 0 for layer in found(ceiling).layers)
    assert total_mm == 10
    assert found(replace(ceiling, out_of_true_mm=9)).stop != ""


@pytest.mark.parametrize("sample", ["none", "positive"])
def test_textured_coating_stops_until_sampled_negative(sample):
    surface = wall("B12", sample="negative", is_ceiling=True)
    assert found(surface).stop == ""
    assert laid(found(surface)) == [
        ("preparation", "M-GRIT", None),
        ("undercoat", "M-BOND", 3),
        ("finish", "M-FIN", 2),
    ]
    stopped = found(replace(surface, sample=sample), building_year=2005)
    assert stopped.stop != ""
    assert stopped.layers == ()
    assert "C-ASB" in codes(stopped)


def test_damp_wall_stops_and_names_the_caution():
    stopped = found(wall("B13"))
    assert "damp" in stopped.stop
    assert stopped.drying_days == 0
    assert "C-DAMP" in codes(stopped)


def test_wet_aerated_block_waits_until_it_draws():
    assert found(wall("B04", suction_s=60)).stop == ""
    assert "dry first" in found(wall("B04", suction_s=200)).stop


@pytest.mark.parametrize(("crack_mm", "is_stopped"), [("5", False), ("5.1", True)])
def test_a_crack_over_five_millimetres_wants_an_engineer(crack_mm, is_stopped):
    # BRE Digest 251: up to 5 mm category 2, 5 to 15 mm category 3.
    specified = found(wall("B07", crack_mm=Decimal(crack_mm)))
    assert ("engineer" in specified.stop) is is_stopped
    assert ("C-STR" in codes(specified)) is is_stopped


@pytest.mark.parametrize(
    ("hollow_pct", "words"),
    [
        ("0", ""),
        ("5", "fill the hollow places"),
        ("6", "Hack off the hollow parts"),
        ("30", "Hack off the hollow parts"),
    ],
)
def test_hollow_plaster_is_filled_or_hacked_by_its_share(hollow_pct, words):
    specified = found(wall("B07", hollow_pct=Decimal(hollow_pct)))
    assert specified.stop == ""
    assert any(words in layer.words for layer in specified.layers)


def test_more_than_thirty_per_cent_hollow_comes_off_whole():
    assert "whole wall" in found(wall("B07", hollow_pct=Decimal(31))).stop


def test_a_hollow_ceiling_is_never_skimmed():
    ceiling = wall("B07", is_ceiling=True)
    assert found(ceiling).stop == ""
    hollow = found(replace(ceiling, hollow_pct=Decimal(1)))
    assert "overboard" in hollow.stop
    assert "C-CEIL" in codes(hollow)


@pytest.mark.parametrize(
    ("depth_mm", "leaf_mm", "is_across", "is_stopped"),
    [
        # Approved Document A 2C30, 100 mm leaf: 33.3 upright, 16.7 across.
        (25, 100, False, False),
        (33, 100, False, False),
        (34, 100, False, True),
        (25, 100, True, True),
        (16, 100, True, False),
        (17, 100, True, True),
        # 102.5 mm leaf given as 102: 34 and 17.
        (34, 102, False, False),
        (17, 102, True, False),
    ],
)
def test_chase_no_deeper_than_a_third_or_a_sixth(
    depth_mm, leaf_mm, is_across, is_stopped
):
    chase = wall(
        "B14", chase_depth_mm=depth_mm, leaf_mm=leaf_mm, is_chase_across=is_across
    )
    assert bool(found(chase).stop) is is_stopped
    assert {"C-ELEC", "C-SIL", "C-STR"} <= codes(found(chase))


def test_chase_is_filled_in_passes_of_eleven():
    # 25 deep: 23 of bonding in three passes, 2 of finish.
    fill = found(wall("B14", chase_depth_mm=25)).layers[-2]
    assert (fill.product, fill.thickness_mm, fill.coats) == ("M-BOND", 23, 3)


@pytest.mark.parametrize(
    ("year", "shown"),
    [
        (None, {"C-ASB", "C-LEAD"}),
        (1969, {"C-ASB", "C-LEAD"}),
        (1970, {"C-ASB"}),
        (1999, {"C-ASB"}),
        (2000, set()),
    ],
)
def test_the_year_decides_asbestos_and_lead(year, shown):
    painted = found(wall("B06"), building_year=year)
    assert codes(painted) & {"C-ASB", "C-LEAD"} == shown


@pytest.mark.parametrize(("replastered", "shown"), [("7.00", True), ("6.00", False)])
def test_more_than_half_an_outside_wall_asks_building_control(replastered, shown):
    # 7.00 of 12.00 = 58.3 %; 6.00 of 12.00 = 50.0 %, which is not more than half.
    surface = wall(
        "B01", outside_wall_m2=Decimal(12), replastered_m2=Decimal(replastered)
    )
    assert ("C-PARTL" in codes(found(surface))) is shown


def test_height_boards_and_listing_raise_their_cautions():
    board = wall("B08")
    assert "C-WAH" not in codes(found(board))
    assert {"C-WAH", "C-MH"} <= codes(found(replace(board, is_ceiling=True)))
    assert "C-LBC" in codes(found(board, is_listed=True))


@pytest.mark.parametrize(
    ("background", "asked", "code"),
    [
        ("B07", ("MIX-1:4",), "N-CEM-ON-GYP"),
        ("B01", ("M-UND", "MIX-1:4"), "N-CEM-ON-GYP"),
        ("B13", ("M-BOND",), "N-GYP-ON-DAMP"),
        ("B08", ("M-PVA", "M-FIN"), "N-PVA-ON-BOARD"),
        ("B01", ("M-PVA", "MIX-1:5"), "N-CEM-ON-PVA"),
        ("B04", ("MIX-1:3",), "N-STRONG-ON-AERATED"),
    ],
)
def test_what_may_not_meet_is_refused_with_its_rule(background, asked, code):
    refused = found(wall(background, asked=asked)).refused
    assert [pair.code for pair in refused] == [code]
    assert refused[0].rule.endswith(".")


def test_gypsum_finish_over_cement_is_not_refused():
    assert found(wall("B01", asked=("MIX-1:5", "M-FIN"))).refused == ()


@pytest.mark.parametrize(
    ("background", "days"),
    # Skim on board 3, on old plaster 5, 11 + 2 a millimetre a day.
    [("B08", 3), ("B07", 5), ("B06", 5), ("B03", 13)],
)
def test_drying_days_follow_the_coats(background, days):
    assert found(wall(background)).drying_days == days


def test_each_layer_says_why_and_from_where():
    for layer in found(wall("B01")).layers:
        assert layer.why.endswith(".")
        assert layer.source


def test_each_caution_stands_once_for_the_whole_job():
    answer = specify(
        Specification(surfaces=(wall("B06"), replace(wall("B06"), name="Other")))
    )
    shown = [caution.code for caution in answer.cautions]
    assert len(shown) == len(set(shown))


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"hollow_pct": Decimal(101)}, "101 %"),
        ({"suction_s": -1}, "-1 s"),
        ({"out_of_true_mm": 201}, "201 mm"),
        ({"asked": ("M-MUD",)}, "M-MUD"),
        ({"replastered_m2": Decimal(5)}, "5 m²"),
        ({"hollow_pct": Decimal("NaN")}, "possible"),
    ],
)
def test_impossible_facts_are_refused_by_name(facts, words):
    assert found(wall("B07")).layers
    with pytest.raises(Refused, match="Wall") as refusal:
        found(wall("B07", **facts))
    assert words in str(refusal.value)
    assert refusal.value.field.startswith("surfaces[0].")


def test_a_chase_without_depth_is_refused():
    with pytest.raises(Refused, match="depth in millimetres"):
        found(wall("B14"))


def test_nothing_to_specify_is_refused():
    with pytest.raises(Refused, match="no surface"):
        specify(Specification(surfaces=()))


def test_a_year_with_a_slip_is_refused():
    with pytest.raises(Refused, match="19360"):
        found(wall("B07"), building_year=19360)


def test_every_row_names_cautions_and_backgrounds_that_exist():
    named = {code for row in BACKGROUNDS for code in row.cautions}
    assert named <= set(CAUTION_BY_CODE)
    assert {row.background for row in COATS} <= set(BY_CODE)


@given(
    st.sampled_from(["B01", "B03", "B04", "B06", "B07", "B08"]),
    st.integers(0, 400),
    st.integers(0, 60),
    st.booleans(),
)
def test_a_surface_either_stops_or_ends_in_a_finish(
    background, suction_s, out_of_true_mm, is_ceiling
):
    specified = found(
        wall(
            background,
            suction_s=suction_s,
            out_of_true_mm=out_of_true_mm,
            is_ceiling=is_ceiling,
        )
    )
    if specified.stop:
        assert specified.layers == ()
    else:
        assert specified.layers[-1].kind == "finish"
        assert specified.drying_days >= 3
