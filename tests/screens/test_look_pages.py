import pytest

from jobs.models import Job
from quotes.models import Look, Room
from tests import make
from tests.screens.looking import room_typed, signed_in, version, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def office():
    return signed_in(make.office())


@pytest.fixture
def look():
    return make.look_w1()


def test_a_look_is_started_on_its_own_page(office):
    job = make.job()
    page = office.get(f"/jobs/{job.pk}/look/")
    assert "Start the look" in words_of(page)
    sent = {"version": 0, "building_year": "1935", "is_listed": "on", "basis": "smm7"}
    answer = office.post(f"/jobs/{job.pk}/look/start/", sent | {"note": "Damp smell."})
    assert answer.status_code == 303
    assert answer["Location"] == f"/jobs/{job.pk}/look/"
    look = Look.objects.get(job=job)
    assert (look.building_year, look.is_listed, look.basis) == (1935, True, "smm7")
    assert "No room has been measured yet." in words_of(office.get(answer["Location"]))


def test_a_year_in_two_digits_is_asked_again_with_the_note_kept(office):
    job = make.job()
    sent = {"version": 0, "building_year": "35", "basis": "nrm2", "note": "Damp smell."}
    answer = office.post(f"/jobs/{job.pk}/look/start/", sent)
    assert answer.status_code == 422
    assert "Give the year in four digits, such as 1935." in words_of(answer)
    assert "Damp smell." in words_of(answer)
    assert not Look.objects.exists()


def test_a_look_is_started_once(office, look):
    answer = office.post(
        f"/jobs/{look.job_id}/look/start/", {"version": 0, "basis": "nrm2"}
    )
    assert answer.status_code == 422
    assert "has been started already" in words_of(answer)


def test_the_building_is_corrected(office, look):
    url = f"/jobs/{look.job_id}/look/change/"
    assert "1998" in words_of(office.get(url))
    sent = {"version": version(look.job), "building_year": "1936", "basis": "true"}
    assert office.post(url, sent).status_code == 303
    look.refresh_from_db()
    assert (look.building_year, look.basis) == (1936, "true")


def test_the_one_who_comes_second_sees_both_and_may_press_again(office, look):
    url = f"/jobs/{look.job_id}/look/change/"
    old = version(look.job)
    first = {"version": old, "building_year": "1936", "basis": "true", "note": "Mine."}
    assert office.post(url, first).status_code == 303
    second = first | {"building_year": "1901", "note": "Hers."}
    answer = office.post(url, second)
    assert answer.status_code == 422
    page = words_of(answer)
    assert "Somebody else changed this look while you were typing." in page
    assert "Year of the building: 1936." in page  # saved meanwhile
    assert 'value="1901"' in page  # typed and kept
    assert Look.objects.get().building_year == 1936
    assert f'name="version" value="{old + 1}"' in page
    assert office.post(url, second | {"version": old + 1}).status_code == 303
    assert Look.objects.get().building_year == 1901


def test_all_bases_stand_on_the_look_with_their_working(office, look):
    page = words_of(office.get(f"/jobs/{look.job_id}/look/"))
    for title in ("True surface", "Measured through", "NRM2", "SMM7", "Our threshold"):
        assert title in page
    assert "Bedroom wall A: 10.08, less door 1.60 = 8.48 m²." in page
    assert "Bedroom wall C, window: reveal 3.30 m, by the metre." in page


def test_a_stop_is_loud_on_look_and_specification(office, look):
    look.rooms.get().walls.filter(position=1).update(background=make.DAMP)
    for url in (f"/jobs/{look.job_id}/look/", f"/jobs/{look.job_id}/look/spec/"):
        page = words_of(office.get(url))
        assert "Stop: find a specialist first" in page
        assert "Bedroom wall B: " in page


def test_walls_that_are_alike_are_specified_together(office, look):
    page = words_of(office.get(f"/jobs/{look.job_id}/look/spec/"))
    assert "Walls A, B, C and D" in page
    assert "35.08 m²" in page  # 34.58 and reveals of 0.495, half up
    assert "Stop: find" not in page
    assert "Work at Height Regulations 2005" in page  # for the ceiling


def test_a_surface_not_described_is_named(office, look):
    look.rooms.update(ceiling_background="")
    page = words_of(office.get(f"/jobs/{look.job_id}/look/spec/"))
    assert "Bedroom ceiling: say what is on it now." in page


def test_finishing_the_look_moves_the_job_and_marks_the_visit(office):
    visit = make.visit(make.job("visit"), on=make.TODAY)
    look = make.look_w1(visit.job)
    url = f"/jobs/{look.job_id}/look/finish/"
    assert office.post(url, {"version": version(look.job)}).status_code == 303
    assert Job.objects.get(pk=look.job_id).stage == "looked"
    visit.refresh_from_db()
    assert visit.state == "done"


def test_a_look_without_rooms_is_not_finished(office):
    look = make.look()
    answer = office.post(f"/jobs/{look.job_id}/look/finish/", {"version": look.version})
    assert answer.status_code == 422
    assert "There is no room in this look. Add a room first." in words_of(answer)
    assert Job.objects.get(pk=look.job_id).stage == "enquiry"


def test_a_finish_without_a_version_is_pressed_again(office, look):
    answer = office.post(f"/jobs/{look.job_id}/look/finish/", {})
    assert answer.status_code == 422
    assert "Press “Finish the look” again." in words_of(answer)


@pytest.mark.parametrize("role", ["lead", "crew", "books"])
def test_only_the_desk_finds_the_look(role, look):
    room = look.rooms.get()
    wall = room.walls.first()
    opening = room.openings.first()
    visitor = signed_in(make.person(role))
    head = f"/jobs/{look.job_id}/look/"
    at = f"{head}rooms/{room.pk}/"
    for url in (
        *(head, f"{head}change/", f"{head}spec/", f"{head}rooms/new/"),
        *(at, f"{at}change/", f"{at}remove/", f"{at}walls/"),
        *(f"{at}walls/{wall.pk}/", f"{at}openings/new/"),
        *(f"{at}openings/{opening.pk}/", f"{at}openings/{opening.pk}/remove/"),
    ):
        assert visitor.get(url).status_code == 404, url
    sent = room_typed(version=version(look.job), name="Attic")
    assert visitor.post(f"{head}rooms/new/", sent).status_code == 404
    assert Room.objects.count() == 1


def test_the_look_takes_few_reads_however_many_rooms(
    office, look, django_assert_max_num_queries
):
    for number in range(5):
        make.room(look, name=f"Room {number}")
    with django_assert_max_num_queries(16):
        office.get(f"/jobs/{look.job_id}/look/")
