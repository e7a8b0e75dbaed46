import pytest

from quotes.models import Opening, Room
from tests import make
from tests.screens.looking import room_typed, signed_in, version, walk, words_of

pytestmark = pytest.mark.django_db

# A room of 4.00 × 3.00 whose last wall was read 100 mm short.
OPEN_WALK = walk(("4000", 90), ("3000", 90), ("4000", 90), ("2900", 90))


@pytest.fixture
def office():
    return signed_in(make.office())


@pytest.fixture
def look():
    return make.look_w1()


@pytest.fixture
def room(look):
    return look.rooms.get()


def at(room: Room, tail: str = "") -> str:
    return f"/jobs/{room.look.job_id}/look/rooms/{room.pk}/{tail}"


def new_room(look) -> str:
    return f"/jobs/{look.job_id}/look/rooms/new/"


def window(room: Room, **typed: object) -> dict[str, object]:
    wall = room.walls.get(position=1)
    usual: dict[str, object] = {
        "version": version(room.look.job),
        "kind": "window",
        "on": str(wall.pk),
        "width": "1200",
        "height": "1050",
    }
    return usual | typed


def test_a_room_in_feet_is_shown_back_in_millimetres(office, look):
    typed = room_typed(name="Box room", length="8'6\"", width="7'", height="7ft 10in")
    answer = office.post(new_room(look), typed | {"version": version(look.job)})
    assert answer.status_code == 303
    box = Room.objects.get(name="Box room")
    # 102, 84 and 94 inches of 25.4 mm: 2590.8, 2133.6 and 2387.6.
    assert [wall.length_mm for wall in box.walls.all()] == [2591, 2134, 2591, 2134]
    assert box.height_mm == 2388
    assert 'value="2591"' in words_of(office.get(at(box, "change/")))


def test_four_is_asked_back_because_it_may_be_metres(office, look):
    typed = room_typed(name="Box room", length="4") | {"version": version(look.job)}
    answer = office.post(new_room(look), typed)
    assert answer.status_code == 422
    page = words_of(answer)
    assert "4 reads as 4 mm. Type 4 m or 4000 if it is metres" in page
    assert 'value="Box room"' in page
    assert Room.objects.count() == 1


def test_a_ceiling_in_the_work_is_described(office, look):
    typed = room_typed(name="Hall", ceiling_background="", version=version(look.job))
    answer = office.post(new_room(look), typed)
    assert answer.status_code == 422
    assert "Say what is on the ceiling now." in words_of(answer)
    assert office.post(new_room(look), typed | {"has_ceiling": ""}).status_code == 303


def test_a_second_room_of_one_name_is_refused_beside_its_name(office, look):
    answer = office.post(new_room(look), room_typed(version=version(look.job)))
    assert answer.status_code == 422
    assert "There is a room called Bedroom in this look already." in words_of(answer)
    assert Room.objects.count() == 1


def test_a_walk_that_does_not_close_says_by_how_much(office, look):
    typed = room_typed(name="Attic", version=version(look.job)) | OPEN_WALK
    answer = office.post(new_room(look), typed)
    assert answer.status_code == 422
    page = words_of(answer)
    assert (
        "The walk of Attic does not close: it ends 100 mm from where it began" in page
    )
    assert 'value="2900"' in page
    assert Room.objects.count() == 1


def test_a_walk_a_little_out_is_shared_out_and_says_so(office, look):
    sides = (("4000", 90), ("3000", 90), ("4000", 90), ("2990", 90))
    typed = room_typed(name="Attic", version=version(look.job)) | walk(*sides)
    assert office.post(new_room(look), typed).status_code == 303
    page = words_of(office.get(at(Room.objects.get(name="Attic"))))
    assert "Attic ends 10 mm from where it began" in page


def test_two_walls_are_no_room(office, look):
    typed = room_typed(name="Attic", version=version(look.job))
    answer = office.post(new_room(look), typed | walk(("4000", 90), ("3000", 90)))
    assert answer.status_code == 422
    assert "Walk round at least three walls." in words_of(answer)


def test_a_wall_is_put_in_between_without_saving(office, look):
    typed = room_typed(name="Attic", version=version(look.job)) | OPEN_WALK
    answer = office.post(new_room(look), typed | {"insert": "1"})
    assert answer.status_code == 200
    page = answer.content.decode()
    assert 'name="walls-0-length" value="4000"' in page
    assert 'name="walls-1-length" value' not in page
    assert 'name="walls-2-length" value="3000"' in page
    assert 'value="Attic"' in page
    assert Room.objects.count() == 1


def test_a_rectangle_is_walked_afterwards(office, room):
    page = office.get(at(room, "change/") + "?shape=walk").content.decode()
    assert 'name="walls-0-length" value="4200"' in page
    sides = ((4200, 90), (1800, 90), (200, -90), (1800, 90), (4000, 90), (3600, 90))
    typed = room_typed(version=version(room.look.job))
    typed |= walk(*((str(length), turn) for length, turn in sides))
    for place, wall in enumerate(room.walls.all()):
        typed[f"walls-{(0, 1, 4, 5)[place]}-wall"] = wall.pk
    answer = office.post(at(room, "change/"), typed)
    assert answer.status_code == 303, words_of(answer)
    room.refresh_from_db()
    assert room.shape == "walk"
    assert [wall.length_mm for wall in room.walls.all()] == [s[0] for s in sides]
    # The window was in the third wall, which is the fifth of the walk.
    assert Opening.objects.get(kind="window").wall.letter == "E"


def test_a_room_shows_its_walls_drawn_with_their_words(office, room):
    page = words_of(office.get(at(room)))
    assert page.count('role="img"') == 4
    assert "Bedroom wall A: 4,200 mm long and 2,400 mm high" in page
    assert "Door: 800 mm wide and 2,000 mm high, 200 mm from the left" in page


def test_the_name_of_a_room_cannot_bring_its_own_markup(office, look):
    typed = room_typed(name="<b onclick=x>", version=version(look.job))
    assert office.post(new_room(look), typed).status_code == 303
    page = office.get(at(Room.objects.get(name="<b onclick=x>"))).content.decode()
    assert "<b onclick" not in page


def test_a_wall_left_out_says_so_and_leaves_the_sum(office, room):
    wall = room.walls.get(position=1)
    sent = {"version": version(room.look.job), "background": "B07"}
    assert office.post(at(room, f"walls/{wall.pk}/"), sent).status_code == 303
    page = words_of(office.get(at(room)))
    assert "Not in the work." in page
    # Through 52.56 less 3.60 × 2.40.
    assert "43.92 m²" in page


def test_a_hollow_of_more_than_the_wall_is_asked_again(office, room):
    wall = room.walls.get(position=1)
    sent = {"version": version(room.look.job), "background": "B07", "hollow_pct": "120"}
    answer = office.post(at(room, f"walls/{wall.pk}/"), sent | {"is_in": "on"})
    assert answer.status_code == 422
    assert "Hollow is a share of the wall in whole per cent" in words_of(answer)
    assert 'value="120"' in words_of(answer)
    wall.refresh_from_db()
    assert wall.background == "B06"


def test_all_walls_are_set_alike(office, room):
    assert "Save for all walls" in words_of(office.get(at(room, "walls/")))
    sent = {"version": version(room.look.job), "background": "B01", "suction": "high"}
    assert office.post(at(room, "walls/"), sent).status_code == 303
    assert set(room.walls.values_list("background", "suction")) == {("B01", "high")}


def test_an_opening_larger_than_its_wall_is_refused_with_the_figure(office, room):
    answer = office.post(at(room, "openings/new/"), window(room, width="3700"))
    assert answer.status_code == 422
    page = words_of(answer)
    assert "is 3,700 mm, more than the 3,600 mm of Bedroom wall B" in page
    assert 'value="3700"' in page
    assert room.openings.count() == 2


def test_openings_that_lie_over_each_other_are_refused(office, room):
    wall = room.walls.get(position=0)
    typed = window(room, on=str(wall.pk), left="500", sill="900")
    answer = office.post(at(room, "openings/new/"), typed)
    assert answer.status_code == 422
    assert "lie over each other" in words_of(answer)
    assert room.openings.count() == 2


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"kind": "door", "on": "ceiling"}, "A door or a fire is in a wall."),
        ({"kind": "light"}, "A roof light is in the ceiling."),
        ({"kind": "door", "edge": "no"}, "It touches the floor unless"),
        ({"reveals": "head"}, "Give the depth of the reveals, such as 150."),
        ({"reveal_depth": "150"}, "Say which reveals are plastered"),
        ({"on": "999999"}, "Select a valid choice."),
    ],
)
def test_an_opening_that_cannot_be_is_asked_again(office, room, typed, sentence):
    answer = office.post(at(room, "openings/new/"), window(room, **typed))
    assert answer.status_code == 422
    assert sentence in words_of(answer)
    assert room.openings.count() == 2


@pytest.mark.parametrize(
    ("typed", "touches"),
    [
        ({"kind": "door", "width": "800", "height": "2000"}, True),
        ({"kind": "fire", "width": "600", "height": "750"}, True),
        ({"kind": "window"}, False),
        ({"kind": "window", "edge": "yes"}, True),
        ({"kind": "door", "sill": "300", "edge": "no"}, False),
        ({"kind": "hatch", "on": "ceiling"}, False),
    ],
)
def test_an_opening_touches_the_edge_by_its_kind(office, room, typed, touches):
    answer = office.post(at(room, "openings/new/"), window(room, **typed))
    assert answer.status_code == 303, words_of(answer)
    assert Opening.objects.latest("pk").touches_edge is touches


def test_an_opening_is_changed_and_taken_out(office, room):
    opening = room.openings.get(kind="window")
    page = office.get(at(room, f"openings/{opening.pk}/")).content.decode()
    assert 'value="1050"' in page
    typed = window(room, height="1150")
    assert office.post(at(room, f"openings/{opening.pk}/"), typed).status_code == 303
    opening.refresh_from_db()
    assert (opening.height_mm, opening.reveals, opening.wall.letter) == (1150, "", "B")
    url = at(room, f"openings/{opening.pk}/remove/")
    assert "1,200 × 1,150 mm" in words_of(office.get(url))
    sent = {"version": version(room.look.job)}
    assert office.post(url, sent).status_code == 303
    assert room.openings.count() == 1


def test_a_stale_removal_is_refused_and_pressed_again(office, room):
    url = at(room, "remove/")
    old = version(room.look.job)
    make.opening(room, "B", kind="door", width_mm=700, height_mm=2000)
    answer = office.post(url, {"version": old})
    assert answer.status_code == 422
    assert Room.objects.count() == 1
    assert f'name="version" value="{old + 1}"' in words_of(answer)
    assert office.post(url, {"version": old + 1}).status_code == 303
    assert not Room.objects.exists()


def test_a_room_like_this_one_is_opened_to_be_named(office, room):
    answer = office.post(at(room, "copy/"), {"version": version(room.look.job)})
    assert answer.status_code == 303
    assert 'value="Bedroom 2"' in words_of(office.get(answer["Location"]))


def test_an_old_copy_button_copies_nothing(office, room):
    answer = office.post(at(room, "copy/"), {"version": 1})
    assert answer.status_code == 422
    assert "Somebody else changed this look" in words_of(answer)
    assert Room.objects.count() == 1


def test_a_room_of_another_job_is_not_found(office, room):
    other = make.look(make.job())
    url = f"/jobs/{other.job_id}/look/rooms/{room.pk}/"
    assert office.get(url).status_code == 404


def test_htmx_is_given_the_form_alone_and_sent_on(office, look):
    asked = {"HTTP_HX_REQUEST": "true"}
    typed = room_typed(name="Hall", length="4") | {"version": version(look.job)}
    answer = office.post(new_room(look), typed, **asked)
    assert answer.status_code == 422
    assert "<html" not in answer.content.decode()
    answer = office.post(new_room(look), typed | {"length": "4 m"}, **asked)
    assert answer["HX-Redirect"] == at(Room.objects.get(name="Hall"))
