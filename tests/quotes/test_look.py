from dataclasses import replace
from decimal import Decimal

import pytest

from firm.engine.refusal import Refused
from firm.models import HistoryLine
from jobs.queries.job_page import sections_for
from quotes.actions.look import LookFacts, change_look, finish_look
from quotes.actions.opening import remove_opening
from quotes.actions.room import (
    RoomFacts,
    Side,
    WallState,
    copy_room,
    remove_room,
    save_room,
)
from quotes.actions.wall import set_wall, set_walls
from quotes.models import Look, Opening, Room, Wall
from quotes.queries.specified import specified_job
from tests import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def look():
    return make.look_w1()


def facts_of(room: Room) -> RoomFacts:
    """Return what a room is saved from, as it stands."""
    return RoomFacts(
        name=room.name,
        shape=room.shape,
        height_mm=room.height_mm,
        sides=tuple(
            Side(length_mm=wall.length_mm, turn_deg=wall.turn_deg, wall_id=wall.pk)
            for wall in room.walls.all()
        ),
        ceiling_background=room.ceiling_background,
    )


def save(room: Room, facts: RoomFacts, **who: object) -> Room:
    usual = {"by": make.office(), "version": make.version_of(room.look)}
    return save_room(
        room.look.job_id, room_id=room.pk, facts=facts, now=make.NOW, **(usual | who)
    )


def history(look: Look) -> list[str]:
    return list(
        HistoryLine.objects.about("job", look.job_id).values_list("event", flat=True)
    )


def test_every_change_leaves_a_line_and_moves_the_version(look):
    # Started at 1; a room and two openings since.
    assert look.version == 4
    assert history(look)[::-1][-4:] == [
        "look-started",
        "room-saved",
        "opening-saved",
        "opening-saved",
    ]


def test_a_plasterer_does_not_write_the_look(look):
    room = look.rooms.get()
    with pytest.raises(Refused, match="Only the office measures"):
        save(room, facts_of(room), by=make.plasterer())


def test_an_old_version_changes_nothing(look):
    room = look.rooms.get()
    with pytest.raises(Refused, match="Somebody else changed this look"):
        save(room, replace(facts_of(room), height_mm=2700), version=look.version - 1)
    room.refresh_from_db()
    assert room.height_mm == 2400


def test_a_look_that_was_accepted_stays_as_it_was(look):
    room = look.rooms.get()
    look.job.stage = "won"
    look.job.save()
    with pytest.raises(Refused, match="said yes to what was measured"):
        save(room, facts_of(room))


def test_a_lower_ceiling_than_its_door_is_refused_whole(look):
    room = look.rooms.get()
    facts = replace(facts_of(room), height_mm=1900, name="Cellar")
    with pytest.raises(Refused, match="2,000 mm, more than the 1,900 mm"):
        save(room, facts)
    room.refresh_from_db()
    assert (room.height_mm, room.name) == (2400, "Bedroom")
    assert make.version_of(look) == look.version


def test_two_rooms_of_one_name_are_told_apart(look):
    with pytest.raises(Refused, match="a room called bedroom"):
        make.room(look, name="bedroom")


def test_walls_keep_what_is_known_of_them_when_one_is_put_between(look):
    room = look.rooms.get()
    second = room.walls.get(position=1)
    set_wall(
        look.job_id,
        room.pk,
        second.pk,
        state=WallState(background="B01", hollow_pct=10),
        version=make.version_of(look),
        by=make.office(),
        now=make.NOW,
    )
    sides = list(facts_of(room).sides)
    # A nib of 200 mm out and back on wall A: the old wall B comes fourth but one.
    sides[0:1] = [
        replace(sides[0], length_mm=2000, turn_deg=90),
        Side(length_mm=200, turn_deg=-90),
        Side(length_mm=2200, turn_deg=90),
    ]
    sides[3] = replace(sides[3], length_mm=3400)
    save(room, replace(facts_of(room), shape="walk", sides=tuple(sides)))
    second.refresh_from_db()
    assert (second.position, second.background, second.hollow_pct) == (3, "B01", 10)
    assert Opening.objects.get(kind="door").wall.letter == "A"


def test_a_wall_with_a_door_in_it_does_not_vanish(look):
    room = look.rooms.get()
    sides = facts_of(room).sides[1:]
    with pytest.raises(Refused, match="Wall A has openings in it"):
        save(room, replace(facts_of(room), shape="walk", sides=sides))
    assert room.walls.count() == 4


def test_all_walls_alike_leaves_the_ones_that_are_not_ours(look):
    room = look.rooms.get()
    room.walls.filter(position=3).update(is_in=False)
    set_walls(
        look.job_id,
        room.pk,
        state=WallState(background="B03", crack_mm=Decimal("0.5")),
        version=make.version_of(look),
        by=make.office(),
        now=make.NOW,
    )
    walls = list(room.walls.values_list("background", "is_in"))
    assert walls == [("B03", True)] * 3 + [("B03", False)]


def test_a_copied_room_has_its_own_walls_and_openings(look):
    room = look.rooms.get()
    twin = copy_room(
        look.job_id,
        room.pk,
        version=make.version_of(look),
        by=make.office(),
        now=make.NOW,
    )
    assert twin.name == "Bedroom 2"
    assert Wall.objects.filter(room=twin).count() == 4
    door = twin.openings.get(kind="door")
    assert door.wall.room_id == twin.pk
    assert room.openings.count() == 2
    # Twice W1: 2 × 50.195.
    assert specified_job(look.job_id).measured.totals.true.total_m2 == Decimal("100.39")


def test_a_room_is_taken_out_with_all_that_is_in_it(look):
    remove_room(
        look.job_id,
        look.rooms.get().pk,
        version=make.version_of(look),
        by=make.office(),
        now=make.NOW,
    )
    assert not Room.objects.exists()
    assert not Opening.objects.exists()


def take_out(opening_id: int, look: Look) -> None:
    remove_opening(
        look.job_id,
        look.rooms.get().pk,
        opening_id,
        version=make.version_of(look),
        by=make.office(),
        now=make.NOW,
    )


def test_an_opening_taken_out_twice_says_so(look):
    door = Opening.objects.get(kind="door").pk
    take_out(door, look)
    with pytest.raises(Refused, match="taken out of the look meanwhile"):
        take_out(door, look)


def test_a_look_is_not_finished_by_a_stranger(look):
    with pytest.raises(Refused, match="Only the office"):
        finish_look(look.job_id, version=look.version, by=make.lead(), now=make.NOW)


def test_the_building_is_corrected_with_a_line(look):
    change_look(
        look.job_id,
        facts=LookFacts(building_year=1936, is_listed=True, basis="smm7"),
        version=look.version,
        by=make.office(),
        now=make.NOW,
    )
    line = HistoryLine.objects.get(event="look-changed")
    assert "building of 1936, listed, nothing sampled, SMM7" in line.words


def test_the_page_of_a_job_shows_its_look(look):
    section = dict(sections_for(look.job, make.office()))["look"]
    assert section.link_text == "Open the look"
    (card,) = section.context["sheet"].rooms
    assert card.size_words == "4.20 × 3.60 m, 2.40 m high"


def test_the_crew_are_not_shown_the_look_of_a_job(look):
    names = [name for name, _ in sections_for(look.job, make.plasterer())]
    assert "look" not in names
