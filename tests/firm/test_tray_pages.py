"""The tray as the office sees and works it."""

from datetime import timedelta

import pytest
from django.utils import timezone

from firm.actions.pulse import beat_pulse
from firm.models import Notice
from tests import make
from tests.firm.letters import NOW, letter

pytestmark = pytest.mark.django_db
State = Notice.State


@pytest.fixture
def office(client):
    client.force_login(make.office())
    return client


def test_the_tray_says_what_waits_what_went_and_what_needs_somebody(office):
    letter(subject="Your visit on Monday")
    doubtful = letter(subject="Your bill")
    Notice.objects.filter(pk=doubtful.pk).update(state=State.UNSURE, why="Line lost.")
    page = office.get("/tray/").content.decode()
    assert page.index("Needs you") < page.index("Your bill") < page.index("Waiting")
    assert "Line lost." in page
    assert "Your visit on Monday" in page
    assert "No letter has gone yet." in page


def test_a_letter_shows_its_words_as_they_will_be_read(office):
    notice = letter(text="We come at nine.\n\nMind the cat <b>")
    page = office.get(f"/tray/{notice.pk}/").content.decode()
    assert "We come at nine." in page
    assert "Mind the cat &lt;b&gt;" in page
    assert "ana@example.com" in page


def test_the_words_of_a_sealed_letter_are_shown_to_nobody(office):
    notice = letter(kind="sign-in", text="Your key is 12345")
    page = office.get(f"/tray/{notice.pk}/").content.decode()
    assert "12345" not in page
    assert "a key that only its reader may see" in page


@pytest.mark.parametrize(
    ("button", "before", "after"),
    [
        ("hold", State.WAITING, State.HELD),
        ("let-go", State.HELD, State.WAITING),
        ("stop", State.WAITING, State.STOPPED),
        ("stop", State.UNSURE, State.STOPPED),
        ("now", State.HELD, State.WAITING),
        ("arrived", State.UNSURE, State.SENT),
        ("again", State.UNSURE, State.WAITING),
        ("again", State.FAILED, State.WAITING),
    ],
)
def test_each_button_moves_the_letter_and_shows_it(office, button, before, after):
    notice = letter()
    Notice.objects.update(state=before, why="Because.")
    answer = office.post(f"/tray/{notice.pk}/{button}/")
    assert (answer.status_code, answer["Location"]) == (303, f"/tray/{notice.pk}/")
    notice.refresh_from_db()
    assert notice.state == after


def test_a_button_pressed_too_late_says_so_and_moves_nothing(office):
    notice = letter()
    Notice.objects.update(state=State.SENT, settled_at=NOW)
    answer = office.post(f"/tray/{notice.pk}/stop/")
    assert answer.status_code == 422
    assert "has gone or is going" in answer.content.decode()


def test_the_bookkeeper_reads_the_tray_and_moves_nothing(client):
    notice = letter()
    client.force_login(make.bookkeeper())
    page = client.get(f"/tray/{notice.pk}/").content.decode()
    assert "We come at nine." in page
    assert "Hold it back" not in page
    assert client.post(f"/tray/{notice.pk}/hold/").status_code == 403
    notice.refresh_from_db()
    assert notice.state == State.WAITING


def test_the_crew_sees_no_letter(client):
    notice = letter()
    client.force_login(make.lead())
    assert client.get("/tray/").status_code == 403
    assert client.get(f"/tray/{notice.pk}/").status_code == 404
    assert client.post(f"/tray/{notice.pk}/hold/").status_code == 404


def test_a_look_at_a_button_changes_nothing(office):
    notice = letter()
    assert office.get(f"/tray/{notice.pk}/stop/").status_code == 405


def test_older_letters_follow_page_by_page_without_a_gap(office):
    for number in range(53):
        notice = letter(subject=f"Letter {number:02}")
        Notice.objects.filter(pk=notice.pk).update(
            state=State.SENT, settled_at=NOW + timedelta(seconds=number // 2)
        )
    first = office.get("/tray/went/").content.decode()
    last_shown = Notice.objects.get(subject="Letter 03")
    second = office.get(f"/tray/went/{last_shown.pk}/").content.decode()
    assert "Letter 03" in first
    assert "Letter 02" not in first
    assert [n for n in range(53) if f"Letter {n:02}" in second] == [0, 1, 2]


def test_the_tray_asks_the_database_as_often_for_fifty_letters_as_for_two(
    office, django_assert_max_num_queries
):
    for _ in range(50):
        letter()
    with django_assert_max_num_queries(12):
        office.get("/tray/")


def test_health_is_well_while_a_worker_works(client):
    beat_pulse(now=timezone.now())
    answer = client.get("/health/")
    assert (answer.status_code, answer.json()["state"]) == (200, "ok")
    assert answer.json()["worker_seconds"] in {0, 1, 2}


def test_health_is_not_well_two_minutes_after_the_last_pulse(client):
    beat_pulse(now=timezone.now() - timedelta(seconds=121))
    assert client.get("/health/").status_code == 503


def test_health_is_not_well_before_any_worker_worked(client):
    answer = client.get("/health/")
    assert (answer.status_code, answer.json()["worker_seconds"]) == (503, None)
