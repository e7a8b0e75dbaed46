"""A look laid out to be read: every room with its walls, figures and drawings."""

from dataclasses import dataclass
from decimal import Decimal

from django.utils.functional import cached_property

from firm.engine.lengths import figure, in_metres
from firm.engine.refusal import Refused
from quotes.engine.measurement import measure
from quotes.engine.measurement_values import Closure, MeasureAnswer, MeasuredSurface
from quotes.models import Look, Opening, Room, Wall
from quotes.queries.backgrounds import background_name
from quotes.queries.basis import BasisFigure, basis_figures
from quotes.queries.drawn import Drawing, elevation_of, plan_of
from quotes.queries.look import opening_words, suction_words, wall_words
from quotes.queries.measured import (
    MeasuredRoom,
    firms_rule,
    measured_rooms,
    opening_names,
    question_for,
    rooms_to_measure,
)
from quotes.queries.specified import specify_rooms, stop_lines


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningLine:
    opening: Opening
    name: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceCard:
    """One wall, or the ceiling when there is no wall."""

    wall: Wall | None
    title: str
    name: str
    words: str
    place: str
    surface: MeasuredSurface | None
    drawing: Drawing | None
    openings: tuple[OpeningLine, ...]


class RoomCard:
    """A room with everything that its page and its card on the look show."""

    def __init__(self, measured: MeasuredRoom, *, ours: str) -> None:
        self.room = measured.room
        self.trouble = measured.trouble
        self.answer = measured.answer
        self._ours = ours

    @cached_property
    def figures(self) -> tuple[BasisFigure, ...]:
        return basis_figures(self.answer, ours=self._ours) if self.answer else ()

    @property
    def closure(self) -> Closure | None:
        """Return how the walk closed; a rectangle closes by being one."""
        is_walk = self.room.shape == Room.Shape.WALKED
        return self.answer.closure[0] if self.answer and is_walk else None

    @property
    def size_words(self) -> str:
        walls = list(self.room.walls.all())
        if self.room.shape == Room.Shape.RECTANGLE and len(walls) > 1:
            sizes = f"{in_metres(walls[0].length_mm)} × {in_metres(walls[1].length_mm)}"
            return f"{sizes} m, {in_metres(self.room.height_mm)} m high"
        girth_mm = sum(wall.length_mm for wall in walls)
        round_it = f"{len(walls)} walls, {in_metres(girth_mm)} m round"
        return f"{round_it}, {in_metres(self.room.height_mm)} m high"

    @cached_property
    def plan(self) -> Drawing | None:
        is_walk = self.room.shape == Room.Shape.WALKED
        return plan_of(self.room) if is_walk else None

    @cached_property
    def more(self) -> tuple[str, ...]:
        return run_words(self.answer) if self.answer else ()

    @cached_property
    def faces(self) -> tuple[FaceCard, ...]:
        walls = list(self.room.walls.all())
        cards = tuple(self._wall_card(wall) for wall in walls)
        return (*cards, self._ceiling_card()) if self.room.has_ceiling else cards

    @cached_property
    def _lines(self) -> tuple[OpeningLine, ...]:
        openings = list(self.room.openings.all())
        return tuple(
            OpeningLine(opening=opening, name=name, words=opening_words(opening))
            for opening, name in zip(openings, opening_names(openings), strict=True)
        )

    def _surface(self, name: str) -> MeasuredSurface | None:
        surfaces = self.answer.surfaces if self.answer else ()
        return next((s for s in surfaces if s.name == f"{self.room.name} {name}"), None)

    def _wall_card(self, wall: Wall) -> FaceCard:
        surface = self._surface(f"wall {wall.letter}")
        drawing = (
            elevation_of(self.room, wall, length_mm=surface.length_mm)
            if surface
            else None
        )
        return FaceCard(
            wall=wall,
            title=f"Wall {wall.letter}",
            name=str(wall),
            words=wall_words(wall),
            place=str(wall.pk),
            surface=surface,
            drawing=drawing,
            openings=tuple(x for x in self._lines if x.opening.wall_id == wall.pk),
        )

    def _ceiling_card(self) -> FaceCard:
        on_it = background_name(self.room.ceiling_background) or "not described"
        words = f"{on_it}, {suction_words(self.room.ceiling_suction)}."
        return FaceCard(
            wall=None,
            title="Ceiling",
            name="the ceiling",
            words=f"{words[0].upper()}{words[1:]}",
            place="ceiling",
            surface=self._surface("ceiling"),
            drawing=None,
            openings=tuple(x for x in self._lines if x.opening.wall_id is None),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LookSheet:
    """The whole look: its rooms, and the figures of the job when all are sound."""

    rooms: tuple[RoomCard, ...]
    figures: tuple[BasisFigure, ...]
    more: tuple[str, ...]
    stops: tuple[str, ...]
    trouble: str


def look_sheet(look: Look) -> LookSheet:
    rooms = rooms_to_measure(look.job_id)
    cards = tuple(
        RoomCard(measured, ours=look.basis) for measured in measured_rooms(rooms)
    )
    answer: MeasureAnswer | None = None
    stops: tuple[str, ...] = ()
    trouble = ""
    if rooms:
        try:
            answer = measure(question_for(rooms, own_rule=firms_rule()))
            stops = stop_lines(specify_rooms(rooms, answer, look=look).surfaces)
        except Refused as refusal:
            trouble = refusal.text
    return LookSheet(
        rooms=cards,
        figures=basis_figures(answer, ours=look.basis) if answer else (),
        more=run_words(answer) if answer else (),
        stops=stops,
        trouble=trouble,
    )


def room_card(room: Room, *, ours: str) -> RoomCard:
    (measured,) = measured_rooms([room])
    return RoomCard(measured, ours=ours)


def run_words(answer: MeasureAnswer) -> tuple[str, ...]:
    """Say what goes by the metre and by the piece."""
    return tuple(
        words
        for words in (
            _reveal_words(answer),
            _bead_words(answer),
            *(f"Ceiling {band.band} m high." for band in answer.height_bands),
            *answer.making_good.working,
        )
        if words
    )


def _reveal_words(answer: MeasureAnswer) -> str:
    if not answer.reveals:
        return ""
    run_m = figure(sum((reveal.length_m for reveal in answer.reveals), Decimal()))
    size_m2 = figure(sum((reveal.area_m2 for reveal in answer.reveals), Decimal()))
    return f"Reveals {run_m} m, {size_m2} m²."


def _bead_words(answer: MeasureAnswer) -> str:
    pieces = [piece for run in answer.beads for piece in run.pieces_mm]
    if not pieces:
        return ""
    return f"Beads {in_metres(sum(pieces))} m in {len(pieces)} pieces."
