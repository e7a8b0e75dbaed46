"""Put rooms into a look, whole: sizes, walls, ceiling and what they are made of."""

from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.db.models import F, Max

from firm.engine.lengths import in_mm
from firm.engine.refusal import Refused
from firm.models import Person
from quotes.actions.look import next_version, room_of, write
from quotes.models import Look, Opening, Room, Wall
from quotes.queries.measured import firms_rule, measured_room, rooms_to_measure

# Far beyond any room, so that walls can change places without meeting.
OUT_OF_THE_WAY = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class WallState:
    """What a wall is made of and how it was found."""

    background: str
    suction: str = ""
    hollow_pct: int = 0
    out_of_true_mm: int = 0
    crack_mm: Decimal = Decimal(0)
    is_in: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One wall of a walk; `wall_id` when it stood in the room before."""

    length_mm: int
    turn_deg: int = 90
    wall_id: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomFacts:
    """A room as it was entered. `state` is what its new walls are made of."""

    name: str
    shape: str
    height_mm: int
    sides: tuple[Side, ...]
    has_ceiling: bool = True
    ceiling_background: str = ""
    ceiling_suction: str = ""
    chase_mm: int = 0
    state: WallState | None = None


@transaction.atomic
def save_room(
    job_id: int,
    *,
    facts: RoomFacts,
    version: int,
    by: Person,
    now: datetime,
    room_id: int | None = None,
) -> Room:
    """Save a room with all its walls, or nothing of it."""
    look = next_version(job_id, version=version, by=by)
    _refuse_twin(look, facts.name, but=room_id)
    room = _new_room(look) if room_id is None else room_of(look, room_id)
    room.name, room.shape, room.height_mm = facts.name, facts.shape, facts.height_mm
    room.has_ceiling = facts.has_ceiling
    room.ceiling_background = facts.ceiling_background if facts.has_ceiling else ""
    room.ceiling_suction = facts.ceiling_suction if facts.has_ceiling else ""
    room.chase_mm = facts.chase_mm
    room.save()
    _lay_walls(room, facts)
    _refuse_what_cannot_be_measured(room)
    sides = ", ".join(in_mm(side.length_mm) for side in facts.sides)
    words = f"{facts.name}: walls {sides}; {in_mm(facts.height_mm)} high."
    write(job_id, event="room-saved", words=words, by=by, now=now)
    return room


@transaction.atomic
def copy_room(
    job_id: int, room_id: int, *, version: int, by: Person, now: datetime
) -> Room:
    """Put a second room like this one into the look."""
    look = next_version(job_id, version=version, by=by)
    room = room_of(look, room_id)
    walls, openings = list(room.walls.all()), list(room.openings.all())
    old_name = room.name
    room.name = _free_name(look, room.name)
    room.pk, room.position = None, _new_room(look).position
    room._state.adding = True
    room.save()
    twins = {wall.pk: _copied_wall(wall, room) for wall in walls}
    for opening in openings:
        opening.pk, opening.room = None, room
        opening.wall = twins[opening.wall_id] if opening.wall_id else None
        opening._state.adding = True
        opening.save()
    words = f"{room.name}: copied from {old_name}."
    write(job_id, event="room-copied", words=words, by=by, now=now)
    return room


@transaction.atomic
def remove_room(
    job_id: int, room_id: int, *, version: int, by: Person, now: datetime
) -> None:
    """Take a room with its walls and openings out of the look."""
    look = next_version(job_id, version=version, by=by)
    room = room_of(look, room_id)
    room.delete()
    words = f"{room.name}: taken out of the look."
    write(job_id, event="room-removed", words=words, by=by, now=now)


def refuse_what_cannot_be_measured(room_id: int, *, job_id: int) -> None:
    """Let the engine judge the room as it now stands; its refusal undoes the change."""
    room = next(room for room in rooms_to_measure(job_id) if room.pk == room_id)
    measured = measured_room(room, own_rule=firms_rule())
    if measured.trouble:
        raise Refused(measured.trouble, measured.trouble_field)


def _refuse_what_cannot_be_measured(room: Room) -> None:
    refuse_what_cannot_be_measured(room.pk, job_id=room.look.job_id)


def _refuse_twin(look: Look, name: str, *, but: int | None) -> None:
    others = look.rooms.filter(name__iexact=name)
    if (others if but is None else others.exclude(pk=but)).exists():
        raise Refused(
            f"There is a room called {name} in this look already. "
            "Give this one another name.",
            "rooms[0].name",
        )


def _new_room(look: Look) -> Room:
    last = look.rooms.aggregate(last=Max("position"))["last"]
    return Room(look=look, position=0 if last is None else last + 1)


def _free_name(look: Look, name: str) -> str:
    taken = {other.lower() for other in look.rooms.values_list("name", flat=True)}
    number = 2
    while f"{name[:56]} {number}".lower() in taken:
        number += 1
    return f"{name[:56]} {number}"


def _copied_wall(wall: Wall, room: Room) -> Wall:
    wall.pk, wall.room = None, room
    wall._state.adding = True
    wall.save()
    return wall


def _lay_walls(room: Room, facts: RoomFacts) -> None:
    standing = {wall.pk: wall for wall in room.walls.all()}
    kept = {side.wall_id for side in facts.sides if side.wall_id}
    _refuse_strangers(kept, standing)
    for pk, wall in standing.items():
        if pk not in kept:
            _take_down(wall)
    room.walls.update(position=F("position") + OUT_OF_THE_WAY)
    for position, side in enumerate(facts.sides):
        wall = standing[side.wall_id] if side.wall_id else _new_wall(room, facts)
        wall.position = position
        wall.length_mm, wall.turn_deg = side.length_mm, side.turn_deg
        wall.save()


def _refuse_strangers(kept: set[int], standing: dict[int, Wall]) -> None:
    if kept - standing.keys():
        raise Refused(
            "A wall of this room has been taken out meanwhile. Open it again."
        )


def _take_down(wall: Wall) -> None:
    if Opening.objects.filter(wall=wall).exists():
        raise Refused(
            f"Wall {wall.letter} has openings in it. Remove them, or move them to "
            "another wall, before the wall goes.",
            "rooms[0].walls",
        )
    wall.delete()


def _new_wall(room: Room, facts: RoomFacts) -> Wall:
    like = room.walls.first() if facts.state is None else None
    if like is not None:
        like.pk = None
        like._state.adding = True
        return like
    state = facts.state or WallState(background="")
    return put(Wall(room=room), replace(state, is_in=True))


def put(wall: Wall, state: WallState) -> Wall:
    """Write on a wall what it is made of and how it was found."""
    wall.is_in = state.is_in
    wall.background, wall.suction = state.background, state.suction
    wall.hollow_pct, wall.crack_mm = state.hollow_pct, state.crack_mm
    wall.out_of_true_mm = state.out_of_true_mm
    return wall
