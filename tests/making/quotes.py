"""Looks at jobs, as they are entered through the actions that the pages call."""

from dataclasses import replace
from typing import Any

from jobs.models import Job
from quotes.actions.look import LookFacts, start_look
from quotes.actions.opening import OpeningFacts, save_opening
from quotes.actions.room import RoomFacts, Side, WallState, save_room
from quotes.models import Look, Opening, Room
from tests.making import jobs, people

PAINTED, BOARD, TEXTURED, DAMP = "B06", "B08", "B12", "B13"


def look(of: Job | None = None, **facts: Any) -> Look:
    of = of or jobs.job()
    return start_look(of.pk, facts=LookFacts(**facts), by=people.office(), now=jobs.NOW)


def room(in_look: Look | None = None, **facts: Any) -> Room:
    """Return a bedroom of 4.20 × 3.60 × 2.40 m, painted, with a boarded ceiling."""
    in_look = in_look or look()
    usual = RoomFacts(
        name="Bedroom",
        shape=Room.Shape.RECTANGLE,
        height_mm=2400,
        sides=tuple(Side(length_mm=length) for length in (4200, 3600, 4200, 3600)),
        ceiling_background=BOARD,
        state=WallState(background=PAINTED),
    )
    return save_room(
        in_look.job_id,
        facts=replace(usual, **facts),
        version=version_of(in_look),
        by=people.office(),
        now=jobs.NOW,
    )


def opening(in_room: Room, wall: str = "A", **facts: Any) -> Opening:
    """Return a window in wall A; wall "" is the ceiling."""
    letters = {side.letter: side.pk for side in in_room.walls.all()}
    facts.setdefault("kind", "window")
    facts.setdefault("width_mm", 1200)
    facts.setdefault("height_mm", 1050)
    facts.setdefault("touches_edge", facts["kind"] in {"door", "fire"})
    return save_opening(
        in_room.look.job_id,
        in_room.pk,
        facts=OpeningFacts(wall_id=letters.get(wall), **facts),
        version=version_of(in_room.look),
        by=people.office(),
        now=jobs.NOW,
    )


def look_w1(of: Job | None = None) -> Look:
    """Return worked example W1: a plain bedroom with a door and a window."""
    made = look(of, building_year=1998)
    bedroom = room(made)
    opening(bedroom, "A", kind="door", width_mm=800, height_mm=2000, left_mm=200)
    opening(
        bedroom,
        "C",
        left_mm=1500,
        sill_mm=900,
        reveals="head",
        reveal_depth_mm=150,
    )
    made.refresh_from_db()
    return made


def version_of(in_look: Look) -> int:
    return Look.objects.get(pk=in_look.pk).version
