"""Walk round a room: wall lengths and turns in, a closed outline out.

A walk must end where it began. A small gap is the tape's and is shared out over the
walls along it, by length, with every corner kept at its angle; a larger one is a
mistake and is refused, naming the wall that is most likely wrong. How large is common
practice: 20 mm or half a per cent of the girth, whichever is more, unless told.
Curved walls are not walked here.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from itertools import combinations

from firm.engine.lengths import check_length, in_mm, metres
from firm.engine.refusal import Refused
from quotes.engine.angles import direction
from quotes.engine.measurement_values import Closure, Room, Wall

LEAST_TOLERANCE_MM = Decimal(20)
TOLERANCE_PER_GIRTH = Decimal("0.005")
TENTH_MM = Decimal("0.1")
WHOLE_MM = Decimal(1)

Point = tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A closed room: its walls as adjusted, its corners (y runs down), its floor."""

    walls: tuple[Wall, ...]
    corners: tuple[Point, ...]
    floor_mm2: Decimal
    box_mm: tuple[int, int]
    is_clockwise: bool
    closure: Closure


def walls_of(room: Room, *, path: str) -> tuple[Wall, ...]:
    """Return the walls walked, or the four of a rectangle, every size checked."""
    check_length(
        room.height_mm, what=f"The height of {room.name}", field=f"{path}.height_mm"
    )
    if room.walls and (room.length_mm is not None or room.width_mm is not None):
        raise Refused(
            f"{room.name} has walked walls and a length or width. Give one of the two.",
            f"{path}.walls",
        )
    return _walked(room, path=path) if room.walls else _rectangle(room, path=path)


def _rectangle(room: Room, *, path: str) -> tuple[Wall, ...]:
    if room.length_mm is None or room.width_mm is None:
        raise Refused(
            f"{room.name} has no walls. Walk round it, or give a length and a width.",
            f"{path}.walls",
        )
    for side, side_mm in (("length", room.length_mm), ("width", room.width_mm)):
        check_length(
            side_mm, what=f"The {side} of {room.name}", field=f"{path}.{side}_mm"
        )
    sides_mm = (room.length_mm, room.width_mm) * 2
    return tuple(
        Wall(name=name, length_mm=side_mm)
        for name, side_mm in zip("ABCD", sides_mm, strict=True)
    )


def _walked(room: Room, *, path: str) -> tuple[Wall, ...]:
    seen: set[str] = set()
    for number, wall in enumerate(room.walls):
        where = f"{path}.walls[{number}]"
        check_length(
            wall.length_mm,
            what=f"Wall {wall.name} of {room.name}",
            field=f"{where}.length_mm",
        )
        if wall.name in seen:
            raise Refused(
                f"{room.name} has two walls called {wall.name}. Rename one.",
                f"{where}.name",
            )
        seen.add(wall.name)
    return room.walls


def outline_of(room: Room, *, tolerance_mm: int | None, path: str) -> Outline:
    """Walk the room and close it.

    >>> hall = Room(name="Hall", height_mm=2400, length_mm=4200, width_mm=3600)
    >>> outline_of(hall, tolerance_mm=None, path="rooms[0]").floor_mm2
    Decimal('15120000')
    """
    walls = walls_of(room, path=path)
    headings = _headings(room, walls, path=path)
    gap = _end(walls, headings)
    closure = _closure(room, walls, headings, gap, tolerance_mm, path=path)
    lengths = _shared_out(walls, headings, gap)
    if min(lengths) < 1:
        raise Refused(
            f"Closing the walk of {room.name} would leave a wall with no length. "
            "Measure again, or allow a smaller gap.",
            f"{path}.walls",
        )
    corners = _corners(lengths, headings)
    _refuse_crossing(room, walls, corners, path=path)
    is_exact = not any(gap) and all(turn % 90 == 0 for turn in headings)
    doubled = _doubled_area(corners)
    floor_mm2 = abs(doubled) / 2
    return Outline(
        walls=tuple(map(_as_adjusted, walls, lengths)),
        corners=corners,
        # The whole square millimetre, where a root or a share made it endless.
        floor_mm2=floor_mm2 if is_exact else _whole(floor_mm2),
        box_mm=_box(corners),
        is_clockwise=doubled > 0,
        closure=closure,
    )


def _headings(room: Room, walls: tuple[Wall, ...], *, path: str) -> tuple[int, ...]:
    for number, wall in enumerate(walls):
        if abs(wall.turn_deg) >= 180:
            raise Refused(
                f"The turn after wall {wall.name} of {room.name} is {wall.turn_deg}°, "
                "which doubles back. Give less than 180°.",
                f"{path}.walls[{number}].turn_deg",
            )
    total = sum(wall.turn_deg for wall in walls)
    if abs(total) != 360:
        raise Refused(
            f"The turns of {room.name} add up to {total}°, and a walk round a room "
            "turns 360° in all. Check the corners: a left turn is −90.",
            f"{path}.walls",
        )
    headings, heading = [], 0
    for wall in walls:
        headings.append(heading)
        heading += wall.turn_deg
    return tuple(headings)


def _end(walls: tuple[Wall, ...], headings: tuple[int, ...]) -> Point:
    ways = [direction(heading) for heading in headings]
    return (
        sum(
            (w.length_mm * way[0] for w, way in zip(walls, ways, strict=True)),
            Decimal(),
        ),
        sum(
            (w.length_mm * way[1] for w, way in zip(walls, ways, strict=True)),
            Decimal(),
        ),
    )


def _closure(
    room: Room,
    walls: tuple[Wall, ...],
    headings: tuple[int, ...],
    gap: Point,
    tolerance_mm: int | None,
    *,
    path: str,
) -> Closure:
    girth_mm = sum(wall.length_mm for wall in walls)
    allowed_mm = (
        max(LEAST_TOLERANCE_MM, girth_mm * TOLERANCE_PER_GIRTH)
        if tolerance_mm is None
        else Decimal(tolerance_mm)
    )
    squared = gap[0] ** 2 + gap[1] ** 2
    misclosure_mm = squared.sqrt().quantize(TENTH_MM, rounding=ROUND_HALF_UP)
    if squared > allowed_mm**2:
        raise Refused(
            f"The walk of {room.name} does not close: it ends {in_mm(misclosure_mm)} "
            f"from where it began, and {in_mm(allowed_mm)} is allowed. "
            f"{_suspect(walls, headings, gap, allowed_mm)}",
            f"{path}.walls",
        )
    is_adjusted = misclosure_mm >= WHOLE_MM
    return Closure(
        room=room.name,
        girth_m=metres(girth_mm),
        misclosure_mm=misclosure_mm,
        tolerance_mm=allowed_mm,
        is_adjusted=is_adjusted,
        words=_closing_words(room, misclosure_mm, is_adjusted=is_adjusted),
    )


def _closing_words(room: Room, misclosure_mm: Decimal, *, is_adjusted: bool) -> str:
    if not room.walls:
        return f"{room.name} is a rectangle by length and width."
    if is_adjusted:
        return (
            f"{room.name} ends {in_mm(misclosure_mm)} from where it began; "
            "the gap is shared out over the walls along it."
        )
    return f"{room.name} closes."


def _suspect(
    walls: tuple[Wall, ...],
    headings: tuple[int, ...],
    gap: Point,
    allowed_mm: Decimal,
) -> str:
    """Name the wall whose change alone closes best, the longest when several do."""
    tries = []
    for wall, heading in zip(walls, headings, strict=True):
        east, south = direction(heading)
        along = gap[0] * east + gap[1] * south
        across = abs(gap[0] * south - gap[1] * east)
        right_mm = wall.length_mm - along
        if right_mm > 0:
            tries.append((_whole(across), -wall.length_mm, wall.name, right_mm))
    if not tries or min(tries)[0] > allowed_mm:
        return "No single wall explains it: check the turns and measure again."
    left_over, minus_length, name, right_mm = min(tries)
    also = [other for over, _, other, _ in tries if over == left_over and other != name]
    others = f" Wall {' or '.join(also)} could be it too." if also else ""
    return (
        f"Most likely wrong is wall {name}, {in_mm(-minus_length)}: "
        f"it would close at {in_mm(right_mm)}.{others}"
    )


def _shared_out(
    walls: tuple[Wall, ...], headings: tuple[int, ...], gap: Point
) -> tuple[Decimal, ...]:
    """Share the gap over the walls along it, each by its length, angles kept.

    The least change in proportion to length: each wall gives up its length times the
    part of one vector that lies along it, and that vector solves two equations.
    """
    lengths = tuple(Decimal(wall.length_mm) for wall in walls)
    if not any(gap):
        return lengths
    ways = [direction(heading) for heading in headings]
    xx = sum((n * x * x for n, (x, _) in zip(lengths, ways, strict=True)), Decimal())
    xy = sum((n * x * y for n, (x, y) in zip(lengths, ways, strict=True)), Decimal())
    yy = sum((n * y * y for n, (_, y) in zip(lengths, ways, strict=True)), Decimal())
    scale = xx * yy - xy * xy
    east = (gap[0] * yy - gap[1] * xy) / scale
    south = (gap[1] * xx - gap[0] * xy) / scale
    return tuple(
        n * (1 - x * east - y * south) for n, (x, y) in zip(lengths, ways, strict=True)
    )


def _corners(
    lengths: tuple[Decimal, ...], headings: tuple[int, ...]
) -> tuple[Point, ...]:
    x = y = Decimal()
    corners = []
    for length, heading in zip(lengths, headings, strict=True):
        corners.append((x, y))
        east, south = direction(heading)
        x, y = x + length * east, y + length * south
    return tuple(corners)


def _doubled_area(corners: tuple[Point, ...]) -> Decimal:
    return sum((x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in _sides(corners)), Decimal())


def _sides(corners: tuple[Point, ...]) -> list[tuple[Point, Point]]:
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _box(corners: tuple[Point, ...]) -> tuple[int, int]:
    """Return the sides of the box round the room, the shorter first."""
    xs = [x for x, _ in corners]
    ys = [y for _, y in corners]
    shorter, longer = sorted((max(xs) - min(xs), max(ys) - min(ys)))
    return int(_whole(shorter)), int(_whole(longer))


def _refuse_crossing(
    room: Room, walls: tuple[Wall, ...], corners: tuple[Point, ...], *, path: str
) -> None:
    sides = _sides(corners)
    last = len(sides) - 1
    for i, j in combinations(range(len(sides)), 2):
        is_next = j - i == 1 or (i, j) == (0, last)
        if not is_next and _cross(*sides[i], *sides[j]):
            raise Refused(
                f"Walls {walls[i].name} and {walls[j].name} of {room.name} run "
                "through each other. Check the turns and the lengths.",
                f"{path}.walls",
            )


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return (
        _side_of(a, b, c) * _side_of(a, b, d) < 0
        and _side_of(c, d, a) * _side_of(c, d, b) < 0
    )


def _side_of(a: Point, b: Point, p: Point) -> Decimal:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _as_adjusted(wall: Wall, length: Decimal) -> Wall:
    length_mm = int(_whole(length))
    if length_mm == wall.length_mm:
        return wall
    return Wall(
        name=wall.name,
        length_mm=length_mm,
        turn_deg=wall.turn_deg,
        background=wall.background,
        is_plastered=wall.is_plastered,
    )


def _whole(value: Decimal) -> Decimal:
    return value.quantize(WHOLE_MM, rounding=ROUND_HALF_UP)
