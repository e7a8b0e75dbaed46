"""Draw a room from above to scale, from the walk round it, and say it in words.

Corners are the walked ones after the gap was shared out; figures on the walls are what
the tape read. Openings are shown where their place from the left was taken.
"""

from dataclasses import dataclass
from decimal import Decimal

from firm.engine.lengths import area_m2, figure, in_mm
from quotes.engine.elevation_marks import (
    INK,
    PAPER,
    drawing,
    element,
    label_size_mm,
    text,
)
from quotes.engine.measurement_values import Opening, Room, Wall
from quotes.engine.room_walk import Outline, Point, outline_of, walls_of

WALL_STROKE_MM = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """One room to be drawn from above."""

    room: Room
    tolerance_mm: int | None = None
    key: str = "plan"
    scale: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One wall with its two corners and what the tape read."""

    wall: Wall
    start: Point
    end: Point


def draw_plan(plan: Plan) -> str:
    """Draw a room from above as SVG, walls named and measured.

    >>> hall = Room(name="Hall", height_mm=2400, length_mm=4200, width_mm=3600)
    >>> 'viewBox="' in draw_plan(Plan(room=hall))
    True
    """
    outline = _outline(plan)
    size_mm = label_size_mm(longest_mm=outline.box_mm[1])
    sides = _sides(plan, outline)
    marks = [_floor(outline)]
    marks += [_gap(side, opening, outline) for side, opening in _taken(plan, sides)]
    marks += [_label(side, outline, size_mm) for side in sides]
    left, top, width, height = _box(outline)
    margin_mm = 7 * size_mm
    return drawing(
        "".join(marks),
        key=plan.key,
        box_mm=(
            left - margin_mm,
            top - margin_mm,
            width + 2 * margin_mm,
            height + 2 * margin_mm,
        ),
        title=f"{plan.room.name} from above",
        description=" ".join(describe_plan(plan)),
        scale=plan.scale,
    )


def describe_plan(plan: Plan) -> tuple[str, ...]:
    """Say in sentences what the drawing shows.

    >>> hall = Room(name="Hall", height_mm=2400, length_mm=4200, width_mm=3600)
    >>> describe_plan(Plan(room=hall))[0]
    'Hall: 4 walls, 2,400 mm high, floor 15.12 m².'
    """
    outline = _outline(plan)
    room = plan.room
    size = f"{len(outline.walls)} walls, {in_mm(room.height_mm)} high"
    floor = f"floor {figure(area_m2(outline.floor_mm2))} m²"
    lines = [f"{room.name}: {size}, {floor}."]
    for side in _sides(plan, outline):
        names = [o.name for o in room.openings if o.wall == side.wall.name]
        holds = f", with {', '.join(names)}" if names else ""
        left_out = "" if side.wall.is_plastered else ", not plastered"
        lines.append(
            f"Wall {side.wall.name}: {in_mm(side.wall.length_mm)}{holds}{left_out}."
        )
    lines.append(outline.closure.words)
    return tuple(lines)


def _outline(plan: Plan) -> Outline:
    return outline_of(plan.room, tolerance_mm=plan.tolerance_mm, path="room")


def _sides(plan: Plan, outline: Outline) -> list[_Side]:
    corners = outline.corners
    taped = walls_of(plan.room, path="room")
    return [
        _Side(wall=wall, start=start, end=end)
        for wall, start, end in zip(
            taped, corners, corners[1:] + corners[:1], strict=True
        )
    ]


def _box(outline: Outline) -> tuple[int, int, int, int]:
    xs = [int(x) for x, _ in outline.corners]
    ys = [int(y) for _, y in outline.corners]
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


def _floor(outline: Outline) -> str:
    points = " ".join(f"{_mm(x)},{_mm(y)}" for x, y in outline.corners)
    return element(
        "polygon",
        {
            "class": "elev-wall",
            "points": points,
            "fill": PAPER,
            "stroke": INK,
            "stroke-width": WALL_STROKE_MM,
            "stroke-linejoin": "miter",
        },
    )


def _taken(plan: Plan, sides: list[_Side]) -> list[tuple[_Side, Opening]]:
    by_name = {side.wall.name: side for side in sides}
    return [
        (by_name[opening.wall], opening)
        for opening in plan.room.openings
        if opening.left_mm is not None and opening.wall in by_name
    ]


def _gap(side: _Side, opening: Opening, outline: Outline) -> str:
    """Return the break in a wall; left is the start of it, seen from inside."""
    left_mm = opening.left_mm or 0
    right_mm = left_mm + opening.width_mm
    if not outline.is_clockwise:
        length_mm = side.wall.length_mm
        left_mm, right_mm = length_mm - right_mm, length_mm - left_mm
    (x1, y1), (x2, y2) = _along(side, left_mm), _along(side, right_mm)
    return element(
        "line",
        {
            "class": "elev-opening",
            "x1": _mm(x1),
            "y1": _mm(y1),
            "x2": _mm(x2),
            "y2": _mm(y2),
            "stroke": PAPER,
            "stroke-width": WALL_STROKE_MM // 2,
        },
    )


def _along(side: _Side, distance_mm: int) -> Point:
    part = Decimal(distance_mm) / side.wall.length_mm
    (x1, y1), (x2, y2) = side.start, side.end
    return x1 + (x2 - x1) * part, y1 + (y2 - y1) * part


def _label(side: _Side, outline: Outline, size_mm: int) -> str:
    """Write name and length just outside the middle of a wall."""
    (x1, y1), (x2, y2) = side.start, side.end
    length = Decimal(side.wall.length_mm)
    # Outside lies left of the way for a clockwise walk, right of it otherwise.
    out = Decimal(size_mm if outline.is_clockwise else -size_mm)
    x = (x1 + x2) / 2 + (y2 - y1) / length * out
    y = (y1 + y2) / 2 - (x2 - x1) / length * out + size_mm // 3
    aside = (y2 - y1) * out
    half = length * size_mm / 2
    anchor = "middle" if abs(aside) < half else ("start" if aside > 0 else "end")
    return text(
        f"{side.wall.name} {side.wall.length_mm}",
        {"class": "elev-dim", "x": _mm(x), "y": _mm(y), "text-anchor": anchor},
        size_mm=size_mm,
    )


def _mm(value: Decimal) -> str:
    """Write a coordinate to the tenth of a millimetre, whole ones plainly."""
    tenth = value.quantize(Decimal("0.1"))
    return f"{tenth:f}".removesuffix(".0")
