"""Worked examples of measuring, entered by the actions that the pages call.

The totals are those of the firm's own check list of measuring rules, worked examples
W1, W2 and W5, girth reading, each worked by hand there and again in a comment here.
"""

from decimal import Decimal

import pytest

from firm.engine.refusal import Refused
from quotes.actions.room import Side
from quotes.queries.measured import measured_job
from quotes.queries.specified import specified_job, stops
from tests import make

pytestmark = pytest.mark.django_db


def test_w1_a_plain_bedroom():
    answer = measured_job(make.look_w1().job_id)
    # Girth 15.60 × 2.40 = 37.44; less door 1.60 and window 1.26 = 34.58 under both.
    assert answer.totals.nrm2.walls_m2 == Decimal("34.58")
    assert answer.totals.smm7.walls_m2 == Decimal("34.58")
    # Reveals 1.20 + 2 × 1.05 = 3.30 m at 0.15 = 0.495 m², linear under both rules.
    assert answer.totals.nrm2.reveals_m == Decimal("3.30")
    assert answer.totals.true.reveals_m2 == Decimal("0.495")
    # True 34.58 + 0.495 + ceiling 15.12; through 37.44 + 15.12.
    assert answer.totals.true.total_m2 == Decimal("50.195")
    assert answer.totals.through.total_m2 == Decimal("52.56")


def bathroom_w2():
    look = make.look()
    sides = tuple(Side(length_mm=length) for length in (2400, 1900, 2400, 1900))
    room = make.room(look, name="Bathroom", sides=sides, height_mm=2350)
    make.opening(room, "A", kind="door", width_mm=700, height_mm=2000)
    make.opening(
        room,
        "C",
        width_mm=900,
        height_mm=600,
        reveals="all",
        reveal_depth_mm=100,
    )
    make.opening(room, "", kind="hatch", width_mm=550, height_mm=550)
    return look


def test_w2_a_window_between_the_two_thresholds():
    answer = measured_job(bathroom_w2().job_id)
    # 8.60 × 2.35 = 20.21. SMM7 less 1.40 and 0.54; NRM2 leaves the 0.54 in.
    assert answer.totals.smm7.walls_m2 == Decimal("18.27")
    assert answer.totals.nrm2.walls_m2 == Decimal("18.81")
    # The hatch of 0.3025 stays in both ceilings and is not plastered all the same.
    assert answer.totals.smm7.ceilings_m2 == Decimal("4.56")
    assert answer.totals.nrm2.ceilings_m2 == Decimal("4.56")
    # Reveals 2 × (0.90 + 0.60) = 3.00 m. True 18.27 + 0.30 + 4.2575.
    assert answer.totals.smm7.reveals_m == Decimal("3.00")
    assert answer.totals.true.total_m2 == Decimal("22.8275")
    assert answer.totals.through.total_m2 == Decimal("24.77")


# W5 walked clockwise from the door wall: 3.90, 4.50, then 1.20 to the breast, which
# stands 0.35 out and 1.50 wide, 1.20 beyond it, and 4.50 back.
BREAST_W5 = (
    (3900, 90),
    (4500, 90),
    (1200, 90),
    (350, -90),
    (1500, -90),
    (350, 90),
    (1200, 90),
    (4500, 90),
)


def breast_w5():
    look = make.look()
    sides = tuple(Side(length_mm=mm, turn_deg=turn) for mm, turn in BREAST_W5)
    room = make.room(look, name="Parlour", shape="walk", sides=sides, height_mm=2600)
    make.opening(room, "A", kind="door", width_mm=800, height_mm=2000)
    make.opening(
        room,
        "B",
        width_mm=1500,
        height_mm=1300,
        reveals="head",
        reveal_depth_mm=200,
    )
    make.opening(room, "E", kind="fire", width_mm=600, height_mm=750)
    return look


def test_w5_a_chimney_breast():
    answer = measured_job(breast_w5().job_id)
    # Girth 2 × (4.50 + 3.90) + 2 × 0.35 = 17.50; × 2.60 = 45.50.
    assert answer.closure[0].girth_m == Decimal("17.50")
    assert answer.closure[0].misclosure_mm == 0
    # Less fire 0.45 (at the edge, so off although under 0.50), door 1.60, window 1.95.
    assert answer.totals.smm7.walls_m2 == Decimal("41.50")
    assert answer.totals.nrm2.walls_m2 == Decimal("41.50")
    # Face reading: NRM2 counts the two returns of 0.35 by the metre, SMM7 does not.
    assert answer.totals.nrm2_face.walls_m2 == Decimal("39.68")
    assert answer.totals.nrm2_face.narrow_m == Decimal("5.20")
    assert answer.totals.smm7_face.walls_m2 == Decimal("41.50")
    # Ceiling 17.55 − 1.50 × 0.35; reveals 1.50 + 2 × 1.30 = 4.10 at 0.20 = 0.82.
    assert answer.totals.true.ceilings_m2 == Decimal("17.025")
    assert answer.totals.true.total_m2 == Decimal("59.345")
    # Beads on the two outside corners, 2 × 2.60.
    corners = [
        piece
        for bead in answer.beads
        if bead.kind == "corner"
        for piece in bead.pieces_mm
    ]
    assert sum(corners) == 5200


def test_the_firms_own_threshold_is_the_one_used():
    # W1 with 1.20 m² of the firm's own: the window of 1.26 comes off, 37.44 − 2.86.
    make.firm(void_threshold_m2=Decimal("1.20"))
    assert measured_job(make.look_w1().job_id).totals.own.walls_m2 == Decimal("34.58")


def test_a_larger_threshold_of_the_firms_leaves_the_window_in():
    # The door stands at the edge and comes off all the same: 37.44 − 1.60.
    make.firm(void_threshold_m2=Decimal("2.00"))
    assert measured_job(make.look_w1().job_id).totals.own.walls_m2 == Decimal("35.84")


def test_surfaces_are_handed_on_with_their_reveals_and_layers():
    job = specified_job(make.look_w1().job_id)
    by_place = {surface.place: surface for surface in job.surfaces}
    assert list(by_place) == ["A", "B", "C", "D", "ceiling"]
    # Wall C 4.20 × 2.40 = 10.08, less window 1.26, with reveals 0.495.
    assert by_place["C"].area_m2 == Decimal("9.315")
    assert by_place["C"].reveal_m == Decimal("3.30")
    assert "M-FIN" in {layer.product for layer in by_place["C"].specified.layers}
    assert by_place["A"].drawing.startswith("<svg")
    assert "Door" in by_place["A"].drawing_words
    assert job.stops == ()


def test_a_wall_left_out_is_neither_measured_nor_specified():
    look = make.look_w1()
    look.rooms.get().walls.filter(position=1).update(is_in=False)
    job = specified_job(look.job_id)
    assert "B" not in {surface.place for surface in job.surfaces}
    # Less wall B, 3.60 × 2.40 = 8.64: 52.56 − 8.64.
    assert job.measured.totals.through.total_m2 == Decimal("43.92")


def test_chases_are_specified_by_their_run():
    look = make.look()
    make.room(look, chase_mm=12_000)
    chases = specified_job(look.job_id).surfaces[-1]
    # 12.00 m at 50 mm wide.
    assert (chases.place, chases.length_m) == ("chases", Decimal(12))
    assert chases.area_m2 == Decimal("0.6")


def test_damp_stops_the_quote_and_names_the_wall():
    look = make.look_w1()
    look.rooms.get().walls.filter(position=3).update(background=make.DAMP)
    (stop,) = stops(look.job)
    assert stop.startswith("Bedroom wall D: ")
    assert "damp" in stop


def test_textured_coating_stops_the_quote_until_sampled():
    look = make.look(building_year=1975)
    make.room(look, ceiling_background=make.TEXTURED)
    (stop,) = stops(look.job)
    assert stop.startswith("Bedroom ceiling: ")
    cautions = {shown.code: shown for shown in specified_job(look.job_id).cautions}
    assert "Control of Asbestos Regulations 2012" in cautions["C-ASB"].authority


def test_a_job_without_a_look_cannot_be_quoted():
    job = make.job()
    assert stops(job) == (
        "The look at this job has not been started. Measure the rooms first.",
    )
    with pytest.raises(Refused, match="not been started"):
        specified_job(job.pk)


def test_measuring_a_job_takes_four_reads(django_assert_max_num_queries):
    look = make.look_w1()
    make.room(look, name="Box room")
    make.room(look, name="Landing")
    # The firm's threshold, rooms, walls, openings.
    with django_assert_max_num_queries(4):
        measured_job(look.job_id)
