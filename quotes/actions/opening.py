"""Put doors, windows and parts left as they are into a wall or a ceiling."""

from dataclasses import asdict, dataclass
from datetime import datetime

from django.db import transaction

from firm.engine.refusal import Refused
from firm.models import Person
from quotes.actions.look import next_version, room_of, write
from quotes.actions.room import refuse_what_cannot_be_measured
from quotes.models import Opening, Room


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningFacts:
    """An opening as it was measured; no wall means the ceiling."""

    wall_id: int | None
    kind: str
    width_mm: int
    height_mm: int
    left_mm: int | None = None
    sill_mm: int | None = None
    touches_edge: bool = False
    reveals: str = ""
    reveal_depth_mm: int = 0


@transaction.atomic
def save_opening(
    job_id: int,
    room_id: int,
    *,
    facts: OpeningFacts,
    version: int,
    by: Person,
    now: datetime,
    opening_id: int | None = None,
) -> Opening:
    """Save an opening, unless it cannot be in the wall it is said to be in."""
    room = room_of(next_version(job_id, version=version, by=by), room_id)
    if facts.wall_id is not None:
        _refuse_wall_out_of_the_work(room, facts.wall_id)
    opening = _opening_of(room, opening_id)
    for column, value in asdict(facts).items():
        setattr(opening, column, value)
    opening.save()
    refuse_what_cannot_be_measured(room_id, job_id=job_id)
    words = f"{room.name}: {opening} in {_place(opening)}."
    write(job_id, event="opening-saved", words=words, by=by, now=now)
    return opening


@transaction.atomic
def remove_opening(
    job_id: int,
    room_id: int,
    opening_id: int,
    *,
    version: int,
    by: Person,
    now: datetime,
) -> None:
    """Take an opening out of the look."""
    room = room_of(next_version(job_id, version=version, by=by), room_id)
    opening = _opening_of(room, opening_id)
    opening.delete()
    words = f"{room.name}: {opening} taken out."
    write(job_id, event="opening-removed", words=words, by=by, now=now)


def _opening_of(room: Room, opening_id: int | None) -> Opening:
    if opening_id is None:
        return Opening(room=room)
    opening = room.openings.filter(pk=opening_id).first()
    if opening is None:
        raise Refused("That opening has been taken out of the look meanwhile.")
    return opening


def _refuse_wall_out_of_the_work(room: Room, wall_id: int) -> None:
    wall = room.walls.filter(pk=wall_id).first()
    if wall is None:
        raise Refused("That wall has been taken out of the room meanwhile.")
    if not wall.is_in:
        raise Refused(
            f"Wall {wall.letter} is not in the work, so nothing comes off it. "
            "Take the wall in first, or pick another."
        )


def _place(opening: Opening) -> str:
    return str(opening.wall) if opening.wall else "the ceiling"
