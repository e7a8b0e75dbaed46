"""The look: rooms out of the book of rooms, measured as the pages do."""

from dataclasses import asdict
from datetime import datetime
from typing import Any

from firm.management.demo import above, told
from firm.management.demo.story import Story
from firm.models import Person


def look(story: Story, now: datetime) -> None:
    seen = story.told.look
    if seen is None:
        return
    by, job_id = story.stage.cast.owner, story.job.pk
    facts = above.look.LookFacts(
        building_year=seen.year,
        is_listed=seen.is_listed,
        sample=seen.sample,
        sample_report=seen.sample_report,
        note=seen.note,
    )
    above.look.start_look(job_id, facts=facts, by=by, now=now)
    for name in seen.rooms:
        measure_room(job_id, story.stage.rooms[name], by=by, now=now)
    if seen.is_finished:
        above.look.finish_look(job_id, version=_version(job_id), by=by, now=now)


def measure_room(job_id: int, room: told.RoomTold, *, by: Person, now: datetime) -> Any:
    """Save a room, then each wall that is not like the others, then its openings."""
    made = above.room.save_room(
        job_id, facts=room_facts(room), version=_version(job_id), by=by, now=now
    )
    walls = list(made.walls.all())
    for wall, row in zip(room.walls, walls, strict=False):
        if wall_state(wall, room) != usual_state(room):
            above.wall.set_wall(
                job_id,
                made.pk,
                row.pk,
                state=wall_state(wall, room),
                version=_version(job_id),
                by=by,
                now=now,
            )
    by_letter = {row.letter: row.pk for row in walls}
    for opening in room.openings:
        facts = asdict(opening)
        facts["wall_id"] = by_letter.get(facts.pop("wall"))
        above.opening.save_opening(
            job_id,
            made.pk,
            facts=above.opening.OpeningFacts(**facts),
            version=_version(job_id),
            by=by,
            now=now,
        )
    return made


def room_facts(room: told.RoomTold) -> Any:
    is_rectangle = len(room.walls) == 2
    walls = room.walls * 2 if is_rectangle else room.walls
    return above.room.RoomFacts(
        name=room.name,
        shape="rect" if is_rectangle else "walk",
        height_mm=room.height_mm,
        sides=tuple(
            above.room.Side(
                length_mm=wall.mm, turn_deg=-90 if wall.outside_corner else 90
            )
            for wall in walls
        ),
        has_ceiling=bool(room.ceiling),
        ceiling_background=room.ceiling,
        chase_mm=room.chase_mm,
        state=usual_state(room),
    )


def usual_state(room: told.RoomTold) -> Any:
    return above.room.WallState(background=room.background)


def wall_state(wall: told.WallTold, room: told.RoomTold) -> Any:
    return above.room.WallState(
        background=wall.background or room.background,
        suction=wall.suction,
        hollow_pct=wall.hollow_pct,
        out_of_true_mm=wall.out_of_true_mm,
        crack_mm=wall.crack_mm,
        is_in=wall.is_in,
    )


def _version(job_id: int) -> int:
    return int(above.quote_models.Look.objects.get(job=job_id).version)
