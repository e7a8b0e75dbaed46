"""Drawings of walls and rooms: true to scale, safe, and readable without eyes."""

from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from firm.engine.refusal import Refused
from quotes.engine.elevation import Elevation, describe_elevation, draw_elevation
from quotes.engine.measurement_values import Opening, Room, Wall
from quotes.engine.plan import Plan, describe_plan, draw_plan

SVG = "{http://www.w3.org/2000/svg}"
WINDOW = Opening(name="window", width_mm=1200, height_mm=1050, left_mm=900, sill_mm=850)
WALL = Elevation(
    title="Bedroom wall A",
    length_mm=4200,
    height_mm=2400,
    background="B07",
    openings=(WINDOW,),
)


def parsed(drawn):
    return ET.fromstring(drawn)  # noqa: S314 - our own drawing, read back


def of_class(root, name):
    return [e for e in root.iter() if name in (e.get("class") or "").split()]


def size(mark):
    return tuple(int(mark.get(k)) for k in ("x", "y", "width", "height"))


def test_a_unit_of_the_drawing_is_a_millimetre_of_wall():
    root = parsed(draw_elevation(WALL))
    (wall,) = of_class(root, "elev-wall")
    assert size(wall) == (0, 0, 4200, 2400)
    # Sill 850, height 1050: its top is 2400 - 850 - 1050 = 500 under the ceiling.
    (window,) = of_class(root, "elev-opening")
    assert size(window) == (900, 500, 1200, 1050)


def test_the_whole_drawing_lies_in_its_box():
    left, top, width, height = map(
        int, parsed(draw_elevation(WALL)).get("viewBox").split()
    )
    assert left < 0
    assert top < 0
    assert left + width > 4200
    assert top + height > 2400


def test_a_scale_gives_its_true_size_on_paper():
    # At 1:50 a box of w mm is w/50 mm of paper.
    root = parsed(draw_elevation(replace(WALL, scale=50)))
    width_mm = int(root.get("viewBox").split()[2])
    assert float(root.get("width").removesuffix("mm")) == pytest.approx(
        width_mm / 50, abs=0.005
    )


def test_dimensions_chain_from_edge_to_edge():
    words = [e.text for e in parsed(draw_elevation(WALL)).iter(f"{SVG}text")]
    # 900 + 1200 + 2100 = 4200
    for figure in ("900", "1200", "2100", "4200", "2400"):
        assert figure in words


@pytest.mark.parametrize("background", ["B01", "B03", "B04", "B06", "B07", "B08", ""])
def test_the_hatching_names_its_background_and_is_defined(background):
    root = parsed(draw_elevation(replace(WALL, background=background)))
    (wall,) = of_class(root, f"hatch-{background or 'plain'}")
    (pattern,) = root.iter(f"{SVG}pattern")
    assert wall.get("fill") == f"url(#{pattern.get('id')})"


def test_a_drawing_speaks_to_screen_readers():
    root = parsed(draw_elevation(WALL))
    assert root.get("role") == "img"
    ids = root.get("aria-labelledby").split()
    named = {e.get("id"): e.text for e in root if e.get("id") in ids}
    assert list(named) == ids
    assert named["elevation-title"] == "Bedroom wall A"
    assert named["elevation-desc"] == " ".join(describe_elevation(WALL))


def test_no_inline_style_and_no_script():
    drawn = draw_elevation(WALL) + draw_plan(Plan(room=hall()))
    assert "style=" not in drawn
    assert "<script" not in drawn


def test_names_are_escaped_and_cannot_break_out():
    nasty = replace(WINDOW, name='"><script>x</script>\x00&')
    drawn = draw_elevation(replace(WALL, title="A & <b>", openings=(nasty,)))
    root = parsed(drawn)
    assert "<script" not in drawn
    assert root.find(f"{SVG}title").text == "A & <b>"


def test_words_say_what_the_drawing_shows():
    # 10.08 - 1.26 = 8.82
    assert describe_elevation(WALL) == (
        "Bedroom wall A: 4,200 mm long and 2,400 mm high, 10.08 m².",
        "Background: bare old gypsum plaster, sound.",
        (
            "Window: 1,200 mm wide and 1,050 mm high, 900 mm from the left, "
            "850 mm above the floor."
        ),
        "Plastered: 8.82 m².",
    )


def test_a_place_not_taken_is_drawn_broken_and_said():
    loose = replace(WALL, openings=(WINDOW, replace(WINDOW, name="two", left_mm=None)))
    frames = of_class(parsed(draw_elevation(loose)), "elev-opening")
    assert [bool(f.get("stroke-dasharray")) for f in frames] == [False, True]
    # The widest free stretch is 2100 to 4200: the middle leaves 450 on either side.
    assert size(frames[1])[0] == 2550
    assert "its place not taken" in " ".join(describe_elevation(loose))


def test_a_door_stands_on_the_floor():
    door = Opening(name="door", kind="door", width_mm=800, height_mm=2000, left_mm=3000)
    with_door = replace(WALL, openings=(door,))
    (frame,) = of_class(parsed(draw_elevation(with_door)), "elev-opening")
    assert size(frame) == (3000, 400, 800, 2000)
    assert "on the floor." in describe_elevation(with_door)[2]


def test_an_opening_larger_than_its_wall_is_not_drawn():
    with pytest.raises(Refused, match="more than the 4,200 mm"):
        draw_elevation(replace(WALL, openings=(replace(WINDOW, width_mm=4300),)))


@pytest.mark.parametrize("key", ["", "1", 'a"b', "a b"])
def test_a_key_that_could_break_the_page_is_refused(key):
    with pytest.raises(Refused, match="cannot name a drawing"):
        draw_elevation(replace(WALL, key=key))


def hall(turn=90):
    walls = (
        Wall(name="A", length_mm=4200, turn_deg=turn),
        Wall(name="B", length_mm=3600, turn_deg=turn),
        Wall(name="C", length_mm=4200, turn_deg=turn),
        Wall(name="D", length_mm=3600, turn_deg=turn),
    )
    door = Opening(
        name="door", kind="door", wall="A", width_mm=800, height_mm=2000, left_mm=500
    )
    return Room(name="Hall", height_mm=2400, walls=walls, openings=(door,))


def test_a_plan_draws_the_walked_corners():
    root = parsed(draw_plan(Plan(room=hall())))
    (floor,) = of_class(root, "elev-wall")
    assert floor.get("points") == "0,0 4200,0 4200,3600 0,3600"
    (gap,) = of_class(root, "elev-opening")
    assert (gap.get("x1"), gap.get("x2")) == ("500", "1300")


def test_left_is_left_from_inside_whichever_way_it_was_walked():
    # Walked anticlockwise the start of A is its right end: 4200 - 1300 and - 500.
    (gap,) = of_class(parsed(draw_plan(Plan(room=hall(turn=-90)))), "elev-opening")
    assert {gap.get("x1"), gap.get("x2")} == {"2900", "3700"}


def test_a_plan_is_said_wall_by_wall():
    words = describe_plan(Plan(room=hall()))
    assert words[0] == "Hall: 4 walls, 2,400 mm high, floor 15.12 m²."
    assert words[1] == "Wall A: 4,200 mm, with door."
    assert words[-1] == "Hall closes."


def test_a_negative_scale_is_refused():
    with pytest.raises(Refused, match="such as 50"):
        draw_elevation(replace(WALL, scale=-50))


def test_a_wall_of_unknown_background_says_none():
    words = describe_elevation(replace(WALL, background=""))
    assert not any(line.startswith("Background") for line in words)
