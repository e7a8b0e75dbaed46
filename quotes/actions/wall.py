"""Say what the walls of a room are made of, one by one or all alike."""

from dataclasses import replace
from datetime import datetime

from django.db import transaction

from firm.engine.refusal import Refused
from firm.models import Person
from quotes.actions.look import next_version, room_of, write
from quotes.actions.room import WallState, put, refuse_what_cannot_be_measured
from quotes.queries.backgrounds import background_name


@transaction.atomic
def set_wall(
    job_id: int,
    room_id: int,
    wall_id: int,
    *,
    state: WallState,
    version: int,
    by: Person,
    now: datetime,
) -> None:
    """Write down how one wall was found."""
    room = room_of(next_version(job_id, version=version, by=by), room_id)
    wall = room.walls.filter(pk=wall_id).first()
    if wall is None:
        raise Refused("That wall has been taken out of the room meanwhile.")
    put(wall, state).save()
    refuse_what_cannot_be_measured(room_id, job_id=job_id)
    words = f"{room.name}, {wall}: {in_words(state)}."
    write(job_id, event="wall-set", words=words, by=by, now=now)


@transaction.atomic
def set_walls(
    job_id: int,
    room_id: int,
    *,
    state: WallState,
    version: int,
    by: Person,
    now: datetime,
) -> None:
    """Write down that all walls of a room are alike; which are ours stays as it was."""
    room = room_of(next_version(job_id, version=version, by=by), room_id)
    for wall in room.walls.all():
        put(wall, replace(state, is_in=wall.is_in)).save()
    words = f"{room.name}, all walls: {in_words(state)}."
    write(job_id, event="walls-set", words=words, by=by, now=now)


def in_words(state: WallState) -> str:
    if not state.is_in:
        return "not ours"
    found = [background_name(state.background) or "not described"]
    if state.suction:
        found.append(f"{state.suction} suction")
    if state.hollow_pct:
        found.append(f"{state.hollow_pct} % hollow")
    if state.out_of_true_mm:
        found.append(f"{state.out_of_true_mm} mm out of true")
    if state.crack_mm:
        found.append(f"crack of {state.crack_mm} mm")
    return ", ".join(found)
