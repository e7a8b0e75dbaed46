"""What goes on the surfaces of a look, paired with how large they truly are.

`specified_job(job_id)` gives one `SurfaceFacts` for each wall, ceiling and run of
chases in the work: what take-off, the quote and the crew's sheet are made from. It is
`Refused` when a room cannot be measured or a surface has not been described.
`stops(job)` are the sentences that keep a job from being quoted.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal, get_args

from firm.engine.lengths import area_m2, metres
from firm.engine.refusal import Refused
from firm.engine.trade.backgrounds import BACKGROUNDS, BackgroundCode, Suction
from jobs.models import Job
from quotes.engine.measurement import measure
from quotes.engine.measurement_values import MeasureAnswer, MeasuredSurface
from quotes.engine.specification import specify
from quotes.engine.specification_values import (
    Sample,
    ShownCaution,
    Specification,
    SpecifiedSurface,
    SpecifyAnswer,
    SpecifySurface,
)
from quotes.models import Look, Room, Wall
from quotes.queries.backgrounds import CHASES
from quotes.queries.drawn import Drawing, elevation_of, plan_of
from quotes.queries.measured import (
    CHASE_DEPTH_MM,
    CHASE_WIDTH_MM,
    firms_rule,
    question_for,
    rooms_to_measure,
    true_area_m2,
)

SAMPLES: dict[Look.Sample, Sample] = {
    Look.Sample.NONE: "none",
    Look.Sample.NEGATIVE: "negative",
    Look.Sample.POSITIVE: "positive",
}
NOT_STARTED = "The look at this job has not been started. Measure the rooms first."
NO_ROOMS = "There is no room in the look of this job. Measure the rooms first."


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceFacts:
    """One surface as found, measured and specified.

    `place` is a wall's letter, "ceiling" or "chases". `area_m2` is the true surface,
    unrounded, its reveals with it (`reveal_m` is their run). `specified` holds layers,
    reasons, cautions, the stop, suction and drying days. `drawing` is a wall's
    elevation or, for a ceiling, the room from above, as SVG; `drawing_words` says the
    same.
    """

    name: str
    room: str
    room_id: int
    place: str
    kind: Literal["wall", "ceiling", "chase"]
    area_m2: Decimal
    reveal_m: Decimal
    length_m: Decimal
    height_mm: int
    specified: SpecifiedSurface
    drawing: str
    drawing_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecifiedJob:
    """All surfaces of a job, each caution once, and what stops it being quoted."""

    surfaces: tuple[SurfaceFacts, ...]
    cautions: tuple[ShownCaution, ...]
    stops: tuple[str, ...]
    measured: MeasureAnswer


def specified_job(job_id: int) -> SpecifiedJob:
    """Measure and specify a job whole."""
    look = Look.objects.filter(job=job_id).first()
    if look is None:
        raise Refused(NOT_STARTED)
    rooms = rooms_to_measure(job_id)
    if not rooms:
        raise Refused(NO_ROOMS)
    measured = measure(question_for(rooms, own_rule=firms_rule()))
    answer = specify_rooms(rooms, measured, look=look)
    return SpecifiedJob(
        surfaces=_paired(rooms, measured, answer),
        cautions=answer.cautions,
        stops=stop_lines(answer.surfaces),
        measured=measured,
    )


def stops(job: Job) -> tuple[str, ...]:
    """Return why a job may not be quoted yet: a specialist first, or a look undone."""
    try:
        return specified_job(job.pk).stops
    except Refused as refusal:
        return (refusal.text,)


def specify_rooms(
    rooms: Iterable[Room], measured: MeasureAnswer, *, look: Look
) -> SpecifyAnswer:
    sizes = {surface.name: surface for surface in measured.surfaces}
    asked = [value for room in rooms for value in _asked(room, sizes)]
    sample = SAMPLES[Look.Sample(look.sample)]
    asked = [replace(value, sample=sample) for value in asked]
    return specify(
        Specification(
            surfaces=tuple(asked),
            building_year=look.building_year,
            is_listed=look.is_listed,
        )
    )


def _asked(room: Room, sizes: dict[str, MeasuredSurface]) -> list[SpecifySurface]:
    walls = (_wall_asked(room, wall) for wall in room.walls.all() if wall.is_in)
    asked = [value for value in walls if value.name in sizes]
    if room.has_ceiling:
        asked.append(_ceiling_asked(room))
    if room.chase_mm:
        asked.append(
            SpecifySurface(
                name=chases_of(room), background=CHASES, chase_depth_mm=CHASE_DEPTH_MM
            )
        )
    return asked


def _wall_asked(room: Room, wall: Wall) -> SpecifySurface:
    name = f"{room.name} {wall}"
    return SpecifySurface(
        name=name,
        background=_described(wall.background, name),
        suction=_tested(wall.suction),
        hollow_pct=Decimal(wall.hollow_pct),
        out_of_true_mm=wall.out_of_true_mm,
        crack_mm=wall.crack_mm,
    )


def _ceiling_asked(room: Room) -> SpecifySurface:
    name = f"{room.name} ceiling"
    return SpecifySurface(
        name=name,
        background=_described(room.ceiling_background, name),
        is_ceiling=True,
        suction=_tested(room.ceiling_suction),
    )


def chases_of(room: Room) -> str:
    return f"{room.name} chases"


def _described(background: str, name: str) -> BackgroundCode:
    for row in BACKGROUNDS:
        if row.code == background:
            return row.code
    raise Refused(f"{name}: say what is on it now.")


def _tested(suction: str) -> Suction | None:
    known: tuple[Suction, ...] = get_args(Suction)
    return next((one for one in known if one == suction), None)


def stop_lines(surfaces: Iterable[SpecifiedSurface]) -> tuple[str, ...]:
    return tuple(f"{found.name}: {found.stop}" for found in surfaces if found.stop)


def _paired(
    rooms: list[Room], measured: MeasureAnswer, answer: SpecifyAnswer
) -> tuple[SurfaceFacts, ...]:
    found: list[SurfaceFacts] = []
    for room in rooms:
        faces = _Faces(room=room, measured=measured, answer=answer)
        found += [face for wall in room.walls.all() for face in faces.wall(wall)]
        found += [*faces.ceiling(), *faces.chases()]
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Faces:
    """The surfaces of one room, each given where it was measured or specified."""

    room: Room
    measured: MeasureAnswer
    answer: SpecifyAnswer

    def wall(self, wall: Wall) -> Iterator[SurfaceFacts]:
        for surface in self._measured(f"{self.room.name} {wall}"):
            drawing = elevation_of(self.room, wall, length_mm=surface.length_mm)
            yield self._face(surface, place=wall.letter, drawing=drawing)

    def ceiling(self) -> Iterator[SurfaceFacts]:
        for surface in self._measured(f"{self.room.name} ceiling"):
            yield self._face(surface, place="ceiling", drawing=plan_of(self.room))

    def chases(self) -> Iterator[SurfaceFacts]:
        for specified in self._specified(chases_of(self.room)):
            yield SurfaceFacts(
                name=specified.name,
                room=self.room.name,
                room_id=self.room.pk,
                place="chases",
                kind="chase",
                area_m2=area_m2(self.room.chase_mm * CHASE_WIDTH_MM),
                reveal_m=Decimal(),
                length_m=metres(self.room.chase_mm),
                height_mm=self.room.height_mm,
                specified=specified,
                drawing="",
                drawing_words="",
            )

    def _measured(self, name: str) -> Iterator[MeasuredSurface]:
        return (s for s in self.measured.surfaces if s.name == name)

    def _specified(self, name: str) -> Iterator[SpecifiedSurface]:
        return (s for s in self.answer.surfaces if s.name == name)

    def _face(
        self, surface: MeasuredSurface, *, place: str, drawing: Drawing | None
    ) -> SurfaceFacts:
        mine = [r for r in self.measured.reveals if r.surface == surface.name]
        return SurfaceFacts(
            name=surface.name,
            room=self.room.name,
            room_id=self.room.pk,
            place=place,
            kind=surface.kind,
            area_m2=true_area_m2(self.measured, surface),
            reveal_m=sum((r.length_m for r in mine), Decimal()),
            length_m=metres(surface.length_mm),
            height_mm=self.room.height_mm,
            specified=next(self._specified(surface.name)),
            drawing=drawing.svg if drawing else "",
            drawing_words=drawing.words if drawing else "",
        )
