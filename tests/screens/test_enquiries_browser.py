"""The call in a real browser: found while typing, without script, on a phone."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings
from playwright.sync_api import Locator, Page, expect

from jobs.models import Customer, Job, Visit
from tests import make
from tests.screens.looking import signed_in

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def office_address(live_server):
    make.firm()
    make.owner()
    return live_server.url


def open_as_office(page: Page, address: str, path: str) -> Page:
    name = settings.SESSION_COOKIE_NAME
    session = signed_in(make.office()).cookies[name].value
    page.context.add_cookies([{"name": name, "value": session, "url": address}])
    page.goto(f"{address}/{path}")
    return page


def axe_faults(page: Page) -> list[str]:
    return [fault["id"] for fault in Axe().run(page).response["violations"]]


def field(page: Page, label: str) -> Locator:
    """Return a field of the form, not the one for finding at the top."""
    return page.locator("main").get_by_label(label)


def fill_call(page: Page) -> None:
    field(page, "Name").fill("Ted Newman")
    field(page, "Phone").fill("07700 900555")
    field(page, "Address").fill("9 New Street")
    field(page, "Postcode").fill("ZZ1 5EE")
    field(page, "The job in a few words").fill("Patch a wall")


def test_a_customer_is_found_while_typing_and_saved_by_return(desk, office_address):
    customer = make.job().customer
    page = open_as_office(desk, office_address, "enquiries/new/")
    field(page, "What they said").fill("The hall as well.")
    field(page, "Name").press_sequentially("ros", delay=30)
    page.get_by_role("button", name="This is them").click()
    expect(field(page, "Phone")).to_have_value("07700 900123")
    expect(field(page, "What they said")).to_have_value("The hall as well.")
    field(page, "The job in a few words").fill("Skim the hall")
    field(page, "The job in a few words").press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("14 Larch Row")
    assert Job.objects.get(what="Skim the hall").customer == customer
    assert Customer.objects.count() == 1


def test_times_move_to_the_visit_nearby_when_the_postcode_is_typed(
    desk, office_address
):
    make.visit(on=make.tomorrow())
    page = open_as_office(desk, office_address, "enquiries/new/")
    fill_call(page)
    nearby = field(page, "Rosa Reed's visit in the same district").first
    nearby.check()
    page.get_by_role("button", name="Save the enquiry").last.click()
    expect(page.get_by_text("Saved as job 2.")).to_be_visible()
    assert Visit.objects.get(job__number=2).on == make.tomorrow()


def test_the_call_works_without_script(without_script, office_address):
    make.customer()
    page = open_as_office(without_script, office_address, "enquiries/new/")
    field(page, "Phone").fill("07700 900123")
    page.get_by_role("button", name="Look them up").click()
    page.get_by_role("button", name="This is them").click()
    expect(field(page, "Name")).to_have_value("Rosa Reed")
    page.get_by_role("button", name="It is somebody else").click()
    fill_call(page)
    field(page, "Phone").fill("07700 9")
    page.get_by_role("button", name="Save the enquiry").last.click()
    expect(page.get_by_role("alert")).to_contain_text("is not a UK phone number")
    expect(field(page, "Name")).to_have_value("Ted Newman")
    assert not Job.objects.exists()


@pytest.mark.parametrize("width", [320, 375, 1280])
def test_the_pages_are_clean_and_never_scroll_sideways(desk, office_address, width):
    job = make.visit(on=make.tomorrow()).job
    make.other_trade(job, ready_on=make.tomorrow(3))
    page = open_as_office(desk, office_address, "enquiries/")
    page.set_viewport_size({"width": width, "height": 800})
    paths = ["enquiries/", "enquiries/new/", "customers/", "jobs/", "search/?q=reed"]
    paths += [
        f"customers/{job.customer_id}/",
        f"jobs/{job.pk}/",
        f"jobs/{job.pk}/visit/",
    ]
    paths += [f"jobs/{job.pk}/lost/", f"jobs/{job.pk}/trades/new/"]
    for path in paths:
        page.goto(f"{office_address}/{path}")
        assert (path, axe_faults(page)) == (path, [])
        reach = page.evaluate("document.documentElement.scrollWidth")
        assert (path, reach) == (path, width)
