"""Turn rooms and free surfaces into faces to be measured, one wall or ceiling each.

Here it is settled which faces belong together: walls plastered one after another make
one girth, walls in one straight line make one face. The width of what belongs together
decides whether a rule counts it by the metre. An attached breast or pier is measured
with its wall, because the walk runs round it.
"""

from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

from firm.engine.lengths import check_length, figure, in_metres, metres
from firm.engine.refusal import Refused
from quotes.engine.bases import Reading, Rule
from quotes.engine.measurement_values import (
    Basis,
    BeadRun,
    Opening,
    Room,
    Surface,
    SurfaceKind,
    Wall,
)
from quotes.engine.room_walk import Outline

# SMM7 M20 (from memory): ceilings over 3.50 m above the floor in stages of 1.50 m,
# staircase areas apart; NRM2 carries the same (from memory, verify).
FIRST_BAND_MM = 3_500
BAND_MM = 1_500
STAIRCASE = "staircase area"


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One surface to be plastered, before anything is taken off it."""

    name: str
    room: str
    kind: SurfaceKind
    background: str
    length_mm: int
    height_mm: int
    gross_mm2: Decimal
    openings: tuple[tuple[str, Opening], ...]
    sum_words: str
    height_band: str = ""
    narrow_m: dict[Basis, Decimal] = field(default_factory=dict)


def room_faces(
    room: Room, outline: Outline, *, rules: tuple[Rule, ...], path: str
) -> tuple[Face, ...]:
    """Return the plastered walls of a room and its ceiling."""
    narrow = _narrow_walls(room, outline.walls, rules)
    openings = _by_wall(room, outline.walls, path=path)
    walls = tuple(
        Face(
            name=wall_label(room, wall),
            room=room.name,
            kind="wall",
            background=wall.background or room.background,
            length_mm=wall.length_mm,
            height_mm=room.height_mm,
            gross_mm2=Decimal(wall.length_mm * room.height_mm),
            openings=tuple(openings[wall.name]),
            sum_words=_times(wall.length_mm, room.height_mm),
            narrow_m=narrow[number],
        )
        for number, wall in enumerate(outline.walls)
        if wall.is_plastered
    )
    ceiling = (_ceiling(room, outline, rules=rules, path=path),)
    return walls + ceiling if room.has_ceiling else walls


def surface_face(surface: Surface, *, rules: tuple[Rule, ...], path: str) -> Face:
    """Return a surface measured by itself."""
    for side, side_mm in (
        ("length", surface.length_mm),
        ("height", surface.height_mm),
    ):
        check_length(
            side_mm, what=f"The {side} of {surface.name}", field=f"{path}.{side}_mm"
        )
    return Face(
        name=surface.name,
        room="",
        kind=surface.kind,
        background=surface.background,
        length_mm=surface.length_mm,
        height_mm=surface.height_mm,
        gross_mm2=Decimal(surface.length_mm * surface.height_mm),
        openings=_with_paths(surface.openings, path=f"{path}.openings"),
        sum_words=_times(surface.length_mm, surface.height_mm),
        narrow_m=_narrow_alone(surface.length_mm, surface.height_mm, rules),
    )


def corner_beads(room: Room, outline: Outline) -> tuple[BeadRun, ...]:
    """Return a bead for each outside corner: a turn against the way round."""
    against = -1 if outline.is_clockwise else 1
    following = outline.walls[1:] + outline.walls[:1]
    return tuple(
        BeadRun(
            kind="corner",
            where=f"{room.name}, corner of {wall.name} and {after.name}",
            pieces_mm=(room.height_mm,),
        )
        for wall, after in zip(outline.walls, following, strict=True)
        if wall.turn_deg * against > 0 and (wall.is_plastered or after.is_plastered)
    )


def wall_label(room: Room, wall: Wall) -> str:
    """Name a wall so that it can be found: a letter needs the word, a name does not."""
    word = "wall " if len(wall.name) <= 2 else ""
    return f"{room.name} {word}{wall.name}"


def height_band(room: Room) -> str:
    """Return the stage of height a ceiling is described in, none up to 3.50 m.

    >>> height_band(Room(name="Hall", height_mm=4200))
    '3.50-5.00'
    """
    if room.is_staircase:
        return STAIRCASE
    over_mm = room.height_mm - FIRST_BAND_MM
    if over_mm <= 0:
        return ""
    foot_mm = FIRST_BAND_MM + (over_mm - 1) // BAND_MM * BAND_MM
    return f"{in_metres(foot_mm)}-{in_metres(foot_mm + BAND_MM)}"


def _ceiling(
    room: Room, outline: Outline, *, rules: tuple[Rule, ...], path: str
) -> Face:
    across_mm, along_mm = outline.box_mm
    is_plain = outline.floor_mm2 == across_mm * along_mm
    return Face(
        name=f"{room.name} ceiling",
        room=room.name,
        kind="ceiling",
        background=room.ceiling_background or room.background,
        length_mm=along_mm,
        height_mm=across_mm,
        gross_mm2=outline.floor_mm2,
        openings=_with_paths(room.ceiling_openings, path=f"{path}.ceiling_openings"),
        sum_words=(
            _times(along_mm, across_mm)
            if is_plain
            else f"{figure(outline.floor_mm2 / 1_000_000)} by its corners"
        ),
        height_band=height_band(room),
        narrow_m=_narrow_alone(along_mm, across_mm, rules),
    )


def _times(length_mm: int, height_mm: int) -> str:
    area_m2 = Decimal(length_mm * height_mm) / 1_000_000
    return f"{in_metres(length_mm)} × {in_metres(height_mm)} = {figure(area_m2)}"


def _with_paths(
    openings: tuple[Opening, ...], *, path: str
) -> tuple[tuple[str, Opening], ...]:
    return tuple((f"{path}[{n}]", opening) for n, opening in enumerate(openings))


def _by_wall(
    room: Room, walls: tuple[Wall, ...], *, path: str
) -> dict[str, list[tuple[str, Opening]]]:
    found: dict[str, list[tuple[str, Opening]]] = {wall.name: [] for wall in walls}
    for where, opening in _with_paths(room.openings, path=f"{path}.openings"):
        if opening.wall not in found:
            raise Refused(
                f"{opening.name} is on wall “{opening.wall}”, which {room.name} does "
                f"not have. Its walls are {', '.join(found)}.",
                f"{where}.wall",
            )
        found[opening.wall].append((where, opening))
    return found


def _narrow_alone(
    length_mm: int, height_mm: int, rules: tuple[Rule, ...]
) -> dict[Basis, Decimal]:
    width_mm, run_mm = sorted((length_mm, height_mm))
    return {rule.basis: metres(run_mm) for rule in rules if rule.is_narrow(width_mm)}


def _narrow_walls(
    room: Room, walls: tuple[Wall, ...], rules: tuple[Rule, ...]
) -> list[dict[Basis, Decimal]]:
    """Return for each wall the metres by which narrow-counting rules take it.

    Of several walls making up one narrow strip the first carries the whole run.
    """
    groups: dict[Reading, list[list[int]]] = {
        "girth": _runs(walls, only_straight=False),
        "face": _runs(walls, only_straight=True),
    }
    narrow: list[dict[Basis, Decimal]] = [{} for _ in walls]
    for rule in rules:
        for group in groups[rule.reading]:
            girth_mm = sum(walls[i].length_mm for i in group)
            if not rule.is_narrow(min(girth_mm, room.height_mm)):
                continue
            stands = girth_mm <= room.height_mm
            for place, i in enumerate(group):
                run_mm = walls[i].length_mm
                if stands:
                    run_mm = 0 if place else room.height_mm
                narrow[i][rule.basis] = metres(run_mm)
    return narrow


def _runs(walls: tuple[Wall, ...], *, only_straight: bool) -> list[list[int]]:
    """Gather walls, by number, that follow one another unbroken round the room."""

    def is_joined(i: int, j: int) -> bool:
        both = walls[i].is_plastered and walls[j].is_plastered
        return both and (walls[i].turn_deg == 0 or not only_straight)

    count = len(walls)
    breaks = [i for i in range(count) if not is_joined(i - 1, i)]
    if not breaks:
        return [list(range(count))]
    starts = [*breaks, breaks[0] + count]
    runs = [[i % count for i in range(a, b)] for a, b in pairwise(starts)]
    return [run for run in runs if walls[run[0]].is_plastered]
