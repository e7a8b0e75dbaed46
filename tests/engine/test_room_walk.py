"""Walking round a room: what closes, what is adjusted, what is refused and why."""

from dataclasses import replace
from decimal import Decimal

import pytest

from firm.engine.refusal import Refused
from quotes.engine.measurement_values import Room, Wall
from quotes.engine.room_walk import outline_of

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def walked(*steps, height_mm=2400):
    walls = tuple(
        Wall(name=LETTERS[n], length_mm=length_mm, turn_deg=turn_deg)
        for n, (length_mm, turn_deg) in enumerate(steps)
    )
    return Room(name="Room", height_mm=height_mm, walls=walls)


def outline(room, tolerance_mm=None):
    return outline_of(room, tolerance_mm=tolerance_mm, path="rooms[0]")


def box(a, b, c, d):
    return walked((a, 90), (b, 90), (c, 90), (d, 90))


def test_an_exact_box_closes_and_says_so():
    closed = outline(box(4200, 3600, 4200, 3600))
    assert closed.closure.misclosure_mm == 0
    assert closed.closure.words == "Room closes."
    assert closed.floor_mm2 == 4200 * 3600


@pytest.mark.parametrize(
    ("short_mm", "allowed_mm"),
    [
        # girth 15 600: 0.5 % is 78 mm, more than 20; girth 3 200: 16 mm, so 20
        (4200, Decimal(78)),
        (800, Decimal(20)),
    ],
)
def test_the_gap_allowed_is_twenty_or_half_a_per_cent(short_mm, allowed_mm):
    other_mm = 3600 if short_mm == 4200 else 800
    closed = outline(box(short_mm, other_mm, short_mm, other_mm))
    assert closed.closure.tolerance_mm == allowed_mm


def test_a_small_gap_is_shared_over_the_walls_along_it():
    # A is 10 short of C: the gap of 10 is shared by length over A and C alone.
    closed = outline(box(4000, 3000, 4010, 3000))
    assert closed.closure.misclosure_mm == 10
    assert closed.closure.is_adjusted
    assert "shared out" in closed.closure.words
    lengths = [wall.length_mm for wall in closed.walls]
    assert lengths == [4005, 3000, 4005, 3000]
    # 4000 + 10 x 4000/8010 = 4004.9938 by 3000
    assert abs(closed.floor_mm2 - Decimal(12014981)) < 2


def test_a_gap_just_inside_is_closed_and_just_outside_refused():
    # girth 15 600 + gap: tolerance max(20, 78.x)
    room = box(4200, 3600, 4278, 3600)
    assert outline(room).closure.is_adjusted
    with pytest.raises(Refused, match="does not close"):
        outline(box(4200, 3600, 4279, 3600))


def test_a_firm_may_set_its_own_tolerance():
    room = box(4200, 3600, 4210, 3600)
    assert outline(room, tolerance_mm=10).closure.is_adjusted
    with pytest.raises(Refused, match="and 9 mm is allowed"):
        outline(room, tolerance_mm=9)


def test_the_wall_most_likely_wrong_is_named_with_its_right_length():
    # B read as 6300 for 3600: along B and D only; B is the longer of the two.
    with pytest.raises(Refused) as refusal:
        outline(box(4200, 6300, 4200, 3600))
    words = str(refusal.value)
    assert "ends 2,700 mm from where it began" in words
    assert "Most likely wrong is wall B, 6,300 mm" in words
    assert "close at 3,600 mm" in words
    assert "Wall D could be it too" in words
    assert refusal.value.field == "rooms[0].walls"


def test_two_wrong_walls_are_not_pinned_on_one():
    with pytest.raises(Refused, match="No single wall explains it"):
        outline(box(4200, 3600, 5200, 4600))


def test_turns_must_bring_the_walker_round():
    with pytest.raises(Refused, match="add up to 270°"):
        outline(walked((4200, 90), (3600, 90), (4200, 90), (3600, 0)))


def test_anticlockwise_walk_gives_the_same_room():
    other = walked((4200, -90), (3600, -90), (4200, -90), (3600, -90))
    assert outline(other).floor_mm2 == 4200 * 3600
    assert not outline(other).is_clockwise


def bump(depth_mm):
    """A box of 4000 x 2000 with a pier 1000 wide coming in from the top wall."""
    return walked(
        (1000, 90),
        (depth_mm, -90),
        (1000, -90),
        (depth_mm, 90),
        (2000, 90),
        (2000, 90),
        (4000, 90),
        (2000, 90),
    )


def test_walls_that_run_through_each_other_are_refused():
    # 4000 x 2000 - 1000 x 1500 = 6.50 m2; at 3000 the pier goes out at the bottom.
    assert outline(bump(1500)).floor_mm2 == 6_500_000
    with pytest.raises(Refused, match="Walls B and G of Room run through each other"):
        outline(bump(3000))


def test_three_walls_at_sixty_degrees_close():
    # Equilateral, side 3000: area 3000^2 x sqrt(3) / 4 = 3 897 114.3 mm2
    corner = walked((3000, 120), (3000, 120), (3000, 120))
    assert abs(outline(corner).floor_mm2 - Decimal("3897114.3")) < 1


@pytest.mark.parametrize(
    ("length_mm", "words"),
    [(0, "0 mm"), (-5, "-5 mm"), (100_001, "over 100 m")],
)
def test_a_wall_no_tape_gave_is_refused_by_name(length_mm, words):
    room = box(4200, 3600, 4200, 3600)
    walls = (replace(room.walls[0], length_mm=length_mm), *room.walls[1:])
    assert outline(room)
    with pytest.raises(Refused, match="Wall A of Room") as refusal:
        outline(replace(room, walls=walls))
    assert words in str(refusal.value)
    assert refusal.value.field == "rooms[0].walls[0].length_mm"


def test_two_walls_of_one_name_are_refused():
    room = box(4200, 3600, 4200, 3600)
    twins = (room.walls[0], replace(room.walls[1], name="A"), *room.walls[2:])
    with pytest.raises(Refused, match="two walls called A"):
        outline(replace(room, walls=twins))


def test_a_room_is_walked_or_a_rectangle_never_both():
    room = box(4200, 3600, 4200, 3600)
    with pytest.raises(Refused, match="one of the two"):
        outline(replace(room, length_mm=4200))
    with pytest.raises(Refused, match="no walls"):
        outline(Room(name="Room", height_mm=2400, length_mm=4200))


def test_a_turn_that_doubles_back_is_refused():
    with pytest.raises(Refused, match="turn after wall A of Room is 180°"):
        outline(walked((4000, 180), (4010, 180)))


def test_closing_never_leaves_a_wall_without_length():
    # A sliver of 1 mm between walls of a metre, under a tolerance of nine metres.
    room = walked((1000, 150), (1, 90), (1000, 45), (1000, 75))
    with pytest.raises(Refused, match="leave a wall with no length"):
        outline(room, tolerance_mm=9000)


def test_a_wall_that_would_have_to_vanish_is_not_suspected():
    # A read as 1400 for 5400, a gap of 4000: C (3300) and E (2100), which run against
    # it, cannot be shortened by so much.
    with pytest.raises(Refused) as refusal:
        outline(
            walked(
                (1400, 90), (3200, 90), (3300, -90), (1800, 90), (2100, 90), (5000, 90)
            )
        )
    assert str(refusal.value).endswith(
        "Most likely wrong is wall A, 1,400 mm: it would close at 5,400 mm."
    )
