"""The diary at the desk and the crew's pages in the hand, in a real browser."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from django.utils.timezone import localdate
from playwright.sync_api import Page, expect

from firm.models import Person
from jobs.models import Booking, DayNote
from jobs.queries.calendar import working_days_around
from tests import make
from tests.screens.looking import signed_in

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

# Controls of the page itself; the map and phone links are measured with the rest.
CONTROLS = "main :is(a, button, summary, input, select, textarea)"
LEAST_PX = 44


def as_person(page: Page, person: Person, address: str) -> Page:
    name = settings.SESSION_COOKIE_NAME
    session = signed_in(person).cookies[name].value
    page.context.add_cookies([{"name": name, "value": session, "url": address}])
    return page


def faults(page: Page) -> list[str]:
    return [fault["id"] for fault in Axe().run(page).response["violations"]]


def is_too_wide(page: Page) -> bool:
    wide = page.evaluate("document.documentElement.scrollWidth")
    return wide > page.viewport_size["width"]


@pytest.fixture
def job():
    make.firm()
    days = working_days_around(localdate())
    made = make.booked_job(days.add(localdate(), 1))
    make.caution(made)
    make.need(made)
    make.other_trade(made, sure="unknown", phone="+447700900321")
    return made


def test_the_crews_pages_fit_a_phone_and_a_thumb(phone, live_server, job):
    page = as_person(phone, make.lead(crew=make.crew()), live_server.url)
    for path in ("/tomorrow/", f"/tomorrow/{job.pk}/"):
        page.goto(f"{live_server.url}{path}")
        assert faults(page) == []
        assert not is_too_wide(page)
        for control in page.locator(CONTROLS).all():
            box = control.bounding_box()
            if box is not None:
                assert box["height"] >= LEAST_PX, control.inner_text()


def test_a_note_is_written_on_the_phone(phone, live_server, job):
    page = as_person(phone, make.plasterer(crew=make.crew()), live_server.url)
    page.goto(f"{live_server.url}/tomorrow/")
    page.get_by_role("link", name="14 Larch Row").first.click()
    page.get_by_label("Write a note").fill("Sealer still wet at the stairs.")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.get_by_text("Sealer still wet at the stairs.")).to_be_visible()
    assert DayNote.objects.get().by == make.plasterer()


def test_the_offices_pages_are_clean_at_both_widths(desk, phone, live_server, job):
    won = make.won_job()
    order = make.order(job, job.needs.all())
    paths = [
        "/diary/",
        "/diary/?weeks=6",
        f"/jobs/{won.pk}/when/",
        "/materials/",
        f"/jobs/{job.pk}/order/",
        f"/orders/{order.pk}/",
    ]
    for page in (desk, phone):
        as_person(page, make.office(), live_server.url)
        for path in paths:
            page.goto(f"{live_server.url}{path}")
            assert (path, faults(page), is_too_wide(page)) == (path, [], False)


def test_a_job_is_booked_without_script(without_script, live_server):
    make.firm()
    make.crew()
    won = make.won_job()
    page = as_person(without_script, make.office(), live_server.url)
    page.goto(f"{live_server.url}/diary/")
    page.get_by_role("link", name="When?").click()
    page.get_by_role("button", name="Book ").first.click()
    expect(page.get_by_role("heading", name="Who may follow")).to_be_visible()
    page.goto(f"{live_server.url}/diary/")
    block = page.get_by_role("link", name=f"Blue crew, job {won.number}").first
    expect(block).to_be_visible()
    assert Booking.objects.get().job == won
