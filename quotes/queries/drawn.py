"""Walls and rooms drawn to scale, each with its words beside it."""

from dataclasses import dataclass

from firm.engine.refusal import Refused
from quotes.engine.elevation import Elevation, describe_elevation, draw_elevation
from quotes.engine.plan import Plan, describe_plan, draw_plan
from quotes.models import Opening, Room, Wall
from quotes.queries.measured import opening_names, opening_value, room_value


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """An SVG of the server's own making and the same in sentences."""

    svg: str
    words: str


def elevation_of(room: Room, wall: Wall, *, length_mm: int) -> Drawing:
    """Draw one wall as seen from inside, as long as it was measured to be."""
    openings = list(room.openings.all())
    named = zip(openings, opening_names(openings), strict=True)
    elevation = Elevation(
        title=f"{room.name} {wall}",
        length_mm=length_mm,
        height_mm=room.height_mm,
        background=wall.background,
        openings=tuple(
            opening_value(opening, name=name)
            for opening, name in named
            if is_in_wall(opening, wall)
        ),
        key=f"wall-{wall.pk}",
    )
    return Drawing(
        svg=draw_elevation(elevation), words=" ".join(describe_elevation(elevation))
    )


def is_in_wall(opening: Opening, wall: Wall) -> bool:
    return opening.wall_id == wall.pk


def plan_of(room: Room) -> Drawing | None:
    """Draw a room from above; none while its walk cannot be drawn."""
    plan = Plan(room=room_value(room), key=f"room-{room.pk}")
    try:
        return Drawing(svg=draw_plan(plan), words=" ".join(describe_plan(plan)))
    except Refused:
        return None
