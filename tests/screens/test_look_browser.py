"""The look on a phone and without script, in a real browser."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from playwright.sync_api import Page, expect

from quotes.models import Room
from tests import make
from tests.screens.looking import signed_in

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def look():
    return make.look_w1()


def as_office(page: Page, address: str) -> Page:
    """Give a browser the office's session, without the door's own page."""
    name = settings.SESSION_COOKIE_NAME
    session = signed_in(make.office()).cookies[name].value
    page.context.add_cookies([{"name": name, "value": session, "url": address}])
    return page


def fill_walk(page: Page, name: str, lengths: list[str]) -> None:
    page.get_by_label("Room", exact=True).fill(name)
    for letter, length in zip("ABCDEFGH", lengths, strict=False):
        page.get_by_role("textbox", name=f"Wall {letter}", exact=True).fill(length)
    page.get_by_label("Height").fill("2.4")
    page.get_by_label("What is on the wall now").select_option("B06")
    page.get_by_label("What is on the ceiling now").select_option("B08")


def test_a_walk_is_put_right_on_the_phone(phone, live_server, look):
    page = as_office(phone, live_server.url)
    page.goto(f"{live_server.url}/jobs/{look.job_id}/look/")
    page.get_by_role("link", name="Walk a room").click()
    fill_walk(page, "Attic", ["4000", "3000", "4000", "2900"])
    page.get_by_role("button", name="Save the room").last.click()
    expect(page.get_by_role("alert")).to_contain_text("it ends 100 mm from where")
    expect(page.get_by_role("textbox", name="Wall D", exact=True)).to_have_value("2900")
    page.get_by_role("textbox", name="Wall D", exact=True).fill("3000")
    page.get_by_role("button", name="Save the room").last.click()
    expect(page.get_by_role("heading", name="Attic", level=1)).to_be_visible()
    assert Room.objects.get(name="Attic").walls.count() == 4


def test_a_row_is_put_between_and_the_typing_stays(phone, live_server, look):
    page = as_office(phone, live_server.url)
    page.goto(f"{live_server.url}/jobs/{look.job_id}/look/rooms/new/?shape=walk")
    fill_walk(page, "Attic", ["4000", "3000"])
    page.get_by_role("button", name="Put a wall in after wall a").click()
    expect(page.get_by_role("textbox", name="Wall C", exact=True)).to_have_value("3000")
    expect(page.get_by_role("textbox", name="Wall B", exact=True)).to_have_value("")
    expect(page.get_by_label("Room", exact=True)).to_have_value("Attic")


def test_a_room_is_measured_without_script(without_script, live_server, look):
    page = as_office(without_script, live_server.url)
    page.goto(f"{live_server.url}/jobs/{look.job_id}/look/rooms/new/")
    page.get_by_label("Room", exact=True).fill("Hall")
    page.get_by_label("Length", exact=True).fill("4")
    page.get_by_label("Width").fill("1.2")
    page.get_by_label("Height").fill("2400")
    page.get_by_label("What is on the wall now").select_option("B07")
    page.get_by_label("The ceiling is in the work").uncheck()
    page.get_by_role("button", name="Save the room").last.click()
    expect(page.locator("#problem")).to_contain_text("4 reads as 4 mm")
    page.get_by_label("Length", exact=True).fill("4 m")
    page.get_by_role("button", name="Save the room").last.click()
    expect(page.get_by_role("heading", name="Hall", level=1)).to_be_visible()


def test_nothing_on_the_look_shuts_anybody_out(phone, live_server, look):
    page = as_office(phone, live_server.url)
    room = look.rooms.get()
    head = f"{live_server.url}/jobs/{look.job_id}/look/"
    at = f"{head}rooms/{room.pk}/"
    wall, opening = room.walls.first(), room.openings.first()
    for url in (
        *(head, f"{head}change/", f"{head}spec/", f"{head}rooms/new/"),
        *(f"{head}rooms/new/?shape=walk", at, f"{at}change/", f"{at}walls/"),
        *(f"{at}walls/{wall.pk}/", f"{at}openings/new/"),
        *(f"{at}openings/{opening.pk}/", f"{at}openings/{opening.pk}/remove/"),
    ):
        page.goto(url)
        found = Axe().run(page).response["violations"]
        assert [(url, fault["id"]) for fault in found] == []
        width = page.evaluate("document.documentElement.scrollWidth")
        assert width == 375, f"{url} is {width} wide"
