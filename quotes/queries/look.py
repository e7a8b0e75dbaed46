"""The look at a job for those who may see it, and its rows in words."""

from django.http import Http404

from firm import may
from firm.engine.lengths import in_mm
from firm.models import Person
from jobs.models import Job
from quotes.models import Look, Opening, Room, Wall
from quotes.queries.backgrounds import background_name

NO_JOB = "There is no such job for you to look at."
NO_ROOM = "There is no such room in this look. It may have been taken out."


def job_to_look_at(person: Person, job_id: int) -> Job:
    """Return the job, or say that there is none for this person."""
    job = Job.objects.with_people().filter(pk=job_id).first()
    if job is None or not may.look_at_jobs(person):
        raise Http404(NO_JOB)
    return job


def is_started(job: Job) -> bool:
    return Look.objects.filter(job=job).exists()


def look_at(person: Person, job_id: int) -> Look:
    """Return the look at a job that this person may measure."""
    job_to_look_at(person, job_id)
    look = Look.objects.select_related("job__customer", "job__site", "looked_by")
    found = look.filter(job=job_id).first()
    if found is None:
        raise Http404("The look at this job has not been started.")
    return found


def room_in(look: Look, room_id: int) -> Room:
    rooms = look.rooms.prefetch_related("walls", "openings__wall")
    room = rooms.filter(pk=room_id).first()
    if room is None:
        raise Http404(NO_ROOM)
    return room


def wall_in(room: Room, wall_id: int) -> Wall:
    for wall in room.walls.all():
        if wall.pk == wall_id:
            return wall
    raise Http404("There is no such wall in this room. It may have been taken out.")


def opening_in(room: Room, opening_id: int) -> Opening:
    for opening in room.openings.all():
        if opening.pk == opening_id:
            return opening
    raise Http404("There is no such opening here. It may have been taken out.")


def look_words(look: Look) -> tuple[str, ...]:
    """Say what is saved of a look, for somebody whose typing came second."""
    return (
        f"Year of the building: {look.building_year or 'not given'}.",
        "Listed." if look.is_listed else "Not listed.",
        f"Counted as: {look.get_basis_display()}.",
        f"{look.get_sample_display()}. {look.sample_report}".strip(),
        f"Note: {look.note or 'none'}.",
    )


def room_words(room: Room) -> tuple[str, ...]:
    walls = ", ".join(f"{w.letter} {in_mm(w.length_mm)}" for w in room.walls.all())
    if room.has_ceiling:
        on_it = background_name(room.ceiling_background) or "not described"
        ceiling = f"Ceiling: {on_it}, {suction_words(room.ceiling_suction)}."
    else:
        ceiling = "The ceiling is not in the work."
    chases = f"Chases: {in_mm(room.chase_mm)}." if room.chase_mm else "No chases."
    return (
        f"{room.name}, {in_mm(room.height_mm)} high.",
        f"Walls: {walls}.",
        ceiling,
        chases,
    )


def room_names(look: Look) -> tuple[str, ...]:
    return tuple(look.rooms.values_list("name", flat=True))


def walls_words(room: Room) -> tuple[str, ...]:
    return tuple(f"{wall.letter}: {wall_words(wall)}" for wall in room.walls.all())


def openings_words(room: Room) -> tuple[str, ...]:
    return tuple(f"{one}: {opening_words(one)}." for one in room.openings.all())


def wall_words(wall: Wall) -> str:
    """Say what a wall is made of and how it was found, in one line."""
    if not wall.is_in:
        return "Not in the work."
    found = [
        background_name(wall.background) or "not described",
        suction_words(wall.suction),
    ]
    if wall.hollow_pct:
        found.append(f"{wall.hollow_pct} % hollow")
    if wall.out_of_true_mm:
        found.append(f"{wall.out_of_true_mm} mm out of true")
    if wall.crack_mm:
        found.append(f"crack {wall.crack_mm.normalize():f} mm")
    words = ", ".join(found)
    return f"{words[0].upper()}{words[1:]}."


def opening_words(opening: Opening) -> str:
    parts = [f"{opening.width_mm:,} × {opening.height_mm:,} mm"]
    if opening.left_mm is not None:
        parts.append(f"{in_mm(opening.left_mm)} from the left")
    if opening.sill_mm is not None:
        parts.append(f"{in_mm(opening.sill_mm)} above the floor")
    if opening.reveals:
        depth = in_mm(opening.reveal_depth_mm)
        parts.append(f"reveals {opening.get_reveals_display().lower()}, {depth} deep")
    return ", ".join(parts)


def suction_words(suction: str) -> str:
    return f"{suction} suction" if suction else "suction not tested"
