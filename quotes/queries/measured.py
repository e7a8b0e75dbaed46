"""The rows of a look as the measuring engine asks for them, and what it answers."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Prefetch

from firm.engine.refusal import Refused
from firm.models import Firm
from quotes.engine import measurement_values as asked
from quotes.engine.measurement import measure
from quotes.models import Opening, Room, Wall

KINDS: dict[str, asked.OpeningKind] = {
    Opening.Kind.DOOR: "door",
    Opening.Kind.WINDOW: "window",
    Opening.Kind.FIRE: "fireplace",
    Opening.Kind.HATCH: "hatch",
    Opening.Kind.ROOF_LIGHT: "rooflight",
    Opening.Kind.LEFT: "left_out",
}
NAMES = {Opening.Kind.LEFT: "part left as it is"}
# Chases are noted by their run alone; 50 × 25 mm is common practice for a cable.
CHASE_WIDTH_MM = 50
CHASE_DEPTH_MM = 25


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredRoom:
    """One room with what was measured, or the sentence saying why it was not."""

    room: Room
    answer: asked.MeasureAnswer | None
    trouble: str = ""
    trouble_field: str = ""


def measured_job(job_id: int) -> asked.MeasureAnswer:
    """Measure every room of a job in one go; `Refused` when one cannot be."""
    return measure(question_for(rooms_to_measure(job_id), own_rule=firms_rule()))


def measured_rooms(rooms: Iterable[Room]) -> tuple[MeasuredRoom, ...]:
    """Measure each room by itself, so that one at fault does not hide the others."""
    own_rule = firms_rule()
    return tuple(measured_room(room, own_rule=own_rule) for room in rooms)


def measured_room(room: Room, *, own_rule: asked.OwnRule) -> MeasuredRoom:
    try:
        answer = measure(question_for([room], own_rule=own_rule))
    except Refused as refusal:
        return MeasuredRoom(
            room=room, answer=None, trouble=refusal.text, trouble_field=refusal.field
        )
    return MeasuredRoom(room=room, answer=answer)


def rooms_to_measure(job_id: int) -> list[Room]:
    """Return a job's rooms with walls and openings, in three reads."""
    return list(
        Room.objects.filter(look__job=job_id).prefetch_related(
            "walls", Prefetch("openings", Opening.objects.select_related("wall"))
        )
    )


def firms_rule() -> asked.OwnRule:
    threshold_m2 = Firm.objects.values_list("void_threshold_m2", flat=True).first()
    if threshold_m2 is None:
        return asked.OwnRule()
    return asked.OwnRule(ignore_up_to_m2=threshold_m2)


def question_for(rooms: list[Room], *, own_rule: asked.OwnRule) -> asked.Measurement:
    return asked.Measurement(
        rooms=tuple(room_value(room) for room in rooms),
        chases=tuple(chase_value(room) for room in rooms if room.chase_mm),
        own_rule=own_rule,
    )


def room_value(room: Room) -> asked.Room:
    """Give a room to the engine as a walk; a rectangle is a walk of four."""
    openings = list(room.openings.all())
    named = dict(zip(openings, opening_names(openings), strict=True))
    return asked.Room(
        name=room.name,
        height_mm=room.height_mm,
        has_ceiling=room.has_ceiling,
        ceiling_background=room.ceiling_background,
        walls=tuple(wall_value(wall) for wall in room.walls.all()),
        openings=tuple(
            opening_value(opening, name=name)
            for opening, name in named.items()
            if opening.wall is not None
        ),
        ceiling_openings=tuple(
            opening_value(opening, name=name)
            for opening, name in named.items()
            if opening.wall is None
        ),
    )


def wall_value(wall: Wall) -> asked.Wall:
    return asked.Wall(
        name=wall.letter,
        length_mm=wall.length_mm,
        turn_deg=wall.turn_deg,
        background=wall.background,
        is_plastered=wall.is_in,
    )


def opening_value(opening: Opening, *, name: str) -> asked.Opening:
    return asked.Opening(
        name=name,
        kind=KINDS[opening.kind],
        width_mm=opening.width_mm,
        height_mm=opening.height_mm,
        wall=opening.wall.letter if opening.wall else "",
        left_mm=opening.left_mm,
        sill_mm=opening.sill_mm,
        touches_edge=opening.touches_edge,
        reveal=reveal_value(opening),
    )


def reveal_value(opening: Opening) -> asked.Reveal | None:
    if not opening.reveals:
        return None
    return asked.Reveal(
        depth_mm=opening.reveal_depth_mm,
        has_sill=opening.reveals == Opening.Reveals.ALL_ROUND,
    )


def chase_value(room: Room) -> asked.Chase:
    return asked.Chase(
        name=f"Chases in {room.name}",
        length_mm=room.chase_mm,
        width_mm=CHASE_WIDTH_MM,
        depth_mm=CHASE_DEPTH_MM,
    )


def opening_names(openings: list[Opening]) -> list[str]:
    """Name openings apart: the only window is “window”, others are numbered."""
    words = [
        NAMES.get(Opening.Kind(opening.kind), opening.get_kind_display().lower())
        for opening in openings
    ]
    return [
        f"{word} {words[: place + 1].count(word)}" if words.count(word) > 1 else word
        for place, word in enumerate(words)
    ]


def true_area_m2(
    answer: asked.MeasureAnswer, surface: asked.MeasuredSurface
) -> Decimal:
    """Return what is truly plastered on a surface, its reveals with it."""
    returns = (r.area_m2 for r in answer.reveals if r.surface == surface.name)
    return surface.net_m2 + sum(returns, Decimal())
