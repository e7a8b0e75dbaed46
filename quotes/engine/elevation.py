"""Draw one wall to scale, as seen from inside the room, and say it in words.

A millimetre of wall is a unit of the drawing. Openings whose place was not taken are
spread along the wall with a broken outline, and both the drawing and the words say so:
their size is true, their place is not.
"""

from dataclasses import dataclass
from itertools import pairwise

from firm.engine.lengths import area_m2, check_length, figure, in_mm
from firm.engine.trade.backgrounds import BY_CODE
from quotes.engine.elevation_marks import (
    INK,
    PAPER,
    dimension,
    drawing,
    element,
    hatch,
    label_size_mm,
    text,
)
from quotes.engine.measurement_values import Opening
from quotes.engine.openings import area_mm2, check_openings

USUAL_SILL_MM = 900


@dataclass(frozen=True, slots=True, kw_only=True)
class Elevation:
    """One wall to be drawn. `key` keeps drawings on one page apart."""

    title: str
    length_mm: int
    height_mm: int
    background: str = ""
    openings: tuple[Opening, ...] = ()
    key: str = "elevation"
    scale: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """An opening with the place it is drawn at; `is_taken` when that was measured."""

    opening: Opening
    left_mm: int
    sill_mm: int
    is_taken: bool


def draw_elevation(elevation: Elevation) -> str:
    """Draw a wall as SVG: plaster hatched, openings white, sizes in millimetres.

    >>> wall = Elevation(title="Wall A", length_mm=4200, height_mm=2400)
    >>> drawn = draw_elevation(wall)
    >>> 'role="img"' in drawn and "4200" in drawn
    True
    """
    _check(elevation)
    size_mm = label_size_mm(longest_mm=max(elevation.length_mm, elevation.height_mm))
    margin_mm = 4 * size_mm
    marks = [
        _wall(elevation),
        *(
            _opening(placed, elevation.height_mm, size_mm)
            for placed in placed_openings(elevation)
        ),
        *_dimensions(elevation, size_mm),
    ]
    return drawing(
        "".join(marks),
        key=elevation.key,
        box_mm=(
            -margin_mm,
            -margin_mm,
            elevation.length_mm + 2 * margin_mm,
            elevation.height_mm + 2 * margin_mm,
        ),
        title=elevation.title,
        description=" ".join(describe_elevation(elevation)),
        scale=elevation.scale,
    )


def describe_elevation(elevation: Elevation) -> tuple[str, ...]:
    """Say in sentences what the drawing shows.

    >>> describe_elevation(Elevation(title="Wall A", length_mm=4200, height_mm=2400))
    ('Wall A: 4,200 mm long and 2,400 mm high, 10.08 m².',)
    """
    _check(elevation)
    whole_mm2 = elevation.length_mm * elevation.height_mm
    size = f"{in_mm(elevation.length_mm)} long and {in_mm(elevation.height_mm)} high"
    lines = [f"{elevation.title}: {size}, {figure(area_m2(whole_mm2))} m²."]
    if elevation.background in BY_CODE:
        lines.append(f"Background: {BY_CODE[elevation.background].name}.")
    lines += [_opening_words(placed) for placed in placed_openings(elevation)]
    if elevation.openings:
        left_mm2 = whole_mm2 - sum(area_mm2(opening) for opening in elevation.openings)
        lines.append(f"Plastered: {figure(area_m2(left_mm2))} m².")
    return tuple(lines)


def placed_openings(elevation: Elevation) -> tuple[Placed, ...]:
    """Return every opening with a place, those not taken where there is most room."""
    taken = [
        _as_taken(o, elevation) for o in elevation.openings if o.left_mm is not None
    ]
    for opening in elevation.openings:
        if opening.left_mm is None:
            taken.append(_spread(opening, taken, elevation))
    order = {id(opening): n for n, opening in enumerate(elevation.openings)}
    return tuple(sorted(taken, key=lambda placed: order[id(placed.opening)]))


def _as_taken(opening: Opening, elevation: Elevation) -> Placed:
    return Placed(
        opening=opening,
        left_mm=opening.left_mm or 0,
        sill_mm=_drawn_sill_mm(opening, elevation.height_mm),
        is_taken=_knows_sill(opening),
    )


def _spread(opening: Opening, taken: list[Placed], elevation: Elevation) -> Placed:
    """Put an opening in the middle of the widest stretch that is still free."""
    ends = sorted((p.left_mm, p.left_mm + p.opening.width_mm) for p in taken)
    starts_mm = [0, *(right for _, right in ends)]
    stops_mm = [*(left for left, _ in ends), elevation.length_mm]
    free = zip(starts_mm, stops_mm, strict=True)
    start_mm, stop_mm = max(free, key=lambda gap: gap[1] - gap[0])
    middle_mm = (start_mm + stop_mm - opening.width_mm) // 2
    return Placed(
        opening=opening,
        left_mm=min(max(middle_mm, 0), elevation.length_mm - opening.width_mm),
        sill_mm=_drawn_sill_mm(opening, elevation.height_mm),
        is_taken=False,
    )


def _check(elevation: Elevation) -> None:
    for side, side_mm in (
        ("length", elevation.length_mm),
        ("height", elevation.height_mm),
    ):
        check_length(
            side_mm, what=f"The {side} of {elevation.title}", field=f"{side}_mm"
        )
    check_openings(
        tuple((f"openings[{n}]", o) for n, o in enumerate(elevation.openings)),
        face=elevation.title,
        length_mm=elevation.length_mm,
        height_mm=elevation.height_mm,
        gross_mm2=area_m2(elevation.length_mm * elevation.height_mm) * 1_000_000,
    )


def _knows_sill(opening: Opening) -> bool:
    return opening.sill_mm is not None or opening.kind in {"door", "fireplace"}


def _drawn_sill_mm(opening: Opening, height_mm: int) -> int:
    if opening.sill_mm is not None:
        return opening.sill_mm
    stands = opening.kind in {"door", "fireplace"} or opening.touches_edge
    return 0 if stands else min(USUAL_SILL_MM, height_mm - opening.height_mm)


def _opening_words(placed: Placed) -> str:
    opening = placed.opening
    name = f"{opening.name[:1].upper()}{opening.name[1:]}"
    size = f"{in_mm(opening.width_mm)} wide and {in_mm(opening.height_mm)} high"
    if not placed.is_taken:
        return f"{name}: {size}, its place not taken."
    rise = f"{in_mm(placed.sill_mm)} above" if placed.sill_mm else "on"
    return f"{name}: {size}, {in_mm(placed.left_mm)} from the left, {rise} the floor."


def _wall(elevation: Elevation) -> str:
    name, fill, pattern = hatch(elevation.background, key=elevation.key)
    return pattern + element(
        "rect",
        {
            "class": f"elev-wall {name}",
            "x": 0,
            "y": 0,
            "width": elevation.length_mm,
            "height": elevation.height_mm,
            "fill": fill,
            "stroke": INK,
            "stroke-width": 16,
        },
    )


def _opening(placed: Placed, wall_height_mm: int, size_mm: int) -> str:
    opening = placed.opening
    top_mm = wall_height_mm - placed.sill_mm - opening.height_mm
    broken = {} if placed.is_taken else {"stroke-dasharray": "60 40"}
    frame = element(
        "rect",
        {
            "class": "elev-opening",
            "x": placed.left_mm,
            "y": top_mm,
            "width": opening.width_mm,
            "height": opening.height_mm,
            "fill": PAPER,
            "stroke": INK,
            "stroke-width": 10,
            **broken,
        },
    )
    middle_mm = placed.left_mm + opening.width_mm // 2
    words = [opening.name, f"{opening.width_mm} × {opening.height_mm}"]
    if not placed.is_taken:
        words.append("place not taken")
    first_mm = top_mm + opening.height_mm // 2 - (len(words) - 2) * size_mm // 2
    lines = (
        text(
            line,
            {"class": "elev-label", "x": middle_mm, "y": first_mm + n * size_mm},
            size_mm=size_mm * 3 // 4,
        )
        for n, line in enumerate(words)
    )
    return frame + "".join(lines)


def _dimensions(elevation: Elevation, size_mm: int) -> list[str]:
    foot_mm, right_mm = elevation.height_mm + 3 * size_mm, elevation.length_mm
    whole = [
        dimension(start_mm=(0, foot_mm), end_mm=(right_mm, foot_mm), size_mm=size_mm),
        dimension(
            start_mm=(right_mm + 2 * size_mm, 0),
            end_mm=(right_mm + 2 * size_mm, elevation.height_mm),
            size_mm=size_mm,
        ),
    ]
    return whole + _chain(elevation, size_mm)


def _chain(elevation: Elevation, size_mm: int) -> list[str]:
    """Return the dimensions along the foot of the wall, from edge to edge."""
    taken = [p for p in placed_openings(elevation) if p.is_taken]
    edges = {0, elevation.length_mm}
    for placed in taken:
        edges |= {placed.left_mm, placed.left_mm + placed.opening.width_mm}
    ordered = sorted(edges)
    line_mm = elevation.height_mm + size_mm * 3 // 2
    return [
        dimension(start_mm=(a, line_mm), end_mm=(b, line_mm), size_mm=size_mm * 3 // 4)
        for a, b in pairwise(ordered)
        if taken
    ]
