"""Laws that hold for every room, whatever its sizes."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from quotes.engine.measurement import measure
from quotes.engine.measurement_values import Measurement, Opening, Reveal, Room, Wall

part = st.integers(100, 2000)


@st.composite
def rooms(draw):
    """A box with a breast coming in from wall C, and openings on the other walls."""
    left, breast, right, depth, back = (draw(part) for _ in range(5))
    across = left + breast + right
    steps = [
        (across, 90),
        (depth + back, 90),
        (right, 90),
        (depth, -90),
        (breast, -90),
        (depth, 90),
        (left, 90),
        (depth + back, 90),
    ]
    walls = tuple(
        Wall(name="ABCDEFGH"[n], length_mm=length_mm, turn_deg=turn_deg)
        for n, (length_mm, turn_deg) in enumerate(steps)
    )
    room = Room(name="Room", height_mm=draw(st.integers(300, 5000)), walls=walls)
    return replace(room, openings=draw(openings_of(room)))


@st.composite
def openings_of(draw, room):
    chosen = draw(st.lists(st.sampled_from(room.walls[:3]), unique=True, max_size=3))
    return tuple(
        Opening(
            name=f"opening in {wall.name}",
            wall=wall.name,
            width_mm=draw(st.integers(1, wall.length_mm)),
            height_mm=draw(st.integers(1, room.height_mm)),
            touches_edge=draw(st.booleans()),
            reveal=draw(st.none() | st.builds(Reveal, depth_mm=st.integers(1, 700))),
        )
        for wall in chosen
    )


def totals(room):
    return measure(Measurement(rooms=(room,))).totals


def turned(room, steps):
    return replace(room, walls=room.walls[steps:] + room.walls[:steps])


def mirrored(room):
    """The room in a mirror: walls in reverse, each with the turn that led to it."""
    before = room.walls[-1:] + room.walls[:-1]
    walls = tuple(
        replace(wall, turn_deg=led.turn_deg)
        for wall, led in zip(room.walls, before, strict=True)
    )
    return replace(room, walls=tuple(reversed(walls)))


@given(rooms(), st.integers(0, 7))
def test_where_the_walk_begins_changes_no_total(room, steps):
    assert totals(turned(room, steps)) == totals(room)


@given(rooms())
def test_a_room_in_a_mirror_has_the_same_totals(room):
    assert totals(mirrored(room)) == totals(room)


@given(rooms())
def test_walking_the_other_way_round_changes_no_total(room):
    back = mirrored(room)
    walls = tuple(replace(wall, turn_deg=-wall.turn_deg) for wall in back.walls)
    assert totals(replace(back, walls=walls)) == totals(room)


@given(rooms(), st.integers(3, 7), st.data())
def test_a_wall_in_two_pieces_changes_no_total(room, place, data):
    wall = room.walls[place]
    first_mm = data.draw(st.integers(1, wall.length_mm - 1))
    pieces = (
        replace(wall, length_mm=first_mm, turn_deg=0),
        replace(wall, name="Z", length_mm=wall.length_mm - first_mm),
    )
    walls = room.walls[:place] + pieces + room.walls[place + 1 :]
    assert totals(replace(room, walls=walls)) == totals(room)


@given(rooms())
def test_more_openings_never_need_more_plaster(room):
    without = replace(room, openings=room.openings[:-1])
    more, fewer = totals(room).true, totals(without).true
    assert more.walls_m2 + more.ceilings_m2 <= fewer.walls_m2 + fewer.ceilings_m2


@given(rooms())
def test_no_surface_is_less_than_nothing(room):
    for surface in measure(Measurement(rooms=(room,))).surfaces:
        assert surface.net_m2 >= 0
        assert all(area.area_m2 >= 0 for area in surface.by_basis)
        assert surface.net_m2 <= surface.gross_m2


@given(rooms())
def test_true_is_least_and_through_most_of_the_walls(room):
    found = totals(room)
    assert found.true.walls_m2 <= found.through.walls_m2
    for rule in (found.nrm2, found.smm7, found.own):
        if not rule.narrow_m:
            assert found.true.walls_m2 <= rule.walls_m2 <= found.through.walls_m2


@given(rooms())
def test_the_floor_is_the_box_less_the_breast(room):
    across, deep = room.walls[0].length_mm, room.walls[1].length_mm
    breast = room.walls[3].length_mm * room.walls[4].length_mm
    expected = Decimal(across * deep - breast) / 1_000_000
    assert totals(room).true.ceilings_m2 == expected
