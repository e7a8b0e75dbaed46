"""The same pages in a browser that runs no script: slower to use, never in the way."""

import pytest
from playwright.sync_api import Browser, expect

from invoices.models import Bill
from jobs.models import Job
from quotes.models import Acceptance
from tests import make
from tests.browser.running import text_of
from tests.browser.test_nine_steps import (
    LINK,
    ROSA,
    the_diary,
    the_look,
    what_goes_on_it,
)
from tests.browser.walking import Walker
from tests.conftest import PHONE, quiet_page

pytestmark = [
    pytest.mark.browser,
    pytest.mark.slow,
    pytest.mark.django_db(transaction=True),
]


@pytest.fixture
def bare_phone(chromium: Browser):
    yield from quiet_page(
        chromium.new_context(viewport=PHONE, java_script_enabled=False)
    )


def test_a_job_is_won_and_billed_without_script(without_script, bare_phone, running):
    office = Walker(without_script, running.address, "bare", has_script=False)
    reader = Walker(bare_phone, running.address, "bare-customer", has_script=False)
    office.sign_in("office@example.com")
    job = the_phone_rings(office)
    the_look(office, job)
    what_goes_on_it(office, job)
    office.open(f"/jobs/{job.pk}/quote/")
    office.press("Work out the quote")
    office.press("Send the quote")
    key = LINK.search(text_of(running.letter_to(ROSA, "Our quote for")))
    reader.open(key[1], "quote")
    reader.press("I accept this quote")
    reader.reads("There is a problem")
    reader.field("Your name").fill("Rosa Reed")
    reader.press("I accept this quote")
    reader.reads("has been accepted")
    assert Acceptance.objects.get().typed_name == "Rosa Reed"
    the_diary(office, job)
    office.open(f"/jobs/{job.pk}/")
    office.press("Finished today")
    office.open(f"/jobs/{job.pk}/bill/")
    office.press("Issue the bill")
    office.reads("Bill 1")
    assert Bill.objects.get().job == job


def the_phone_rings(office: Walker) -> Job:
    """Look the caller up with a button, since nothing is found while typing."""
    office.open("/enquiries/new/")
    office.field("Phone").fill("07700 900123")
    office.press("Look them up, and find visit times near there")
    office.press("This is them")
    expect(office.field("Name")).to_have_value("Rosa Reed")
    office.field("The job in a few words").fill("Skim the back bedroom")
    office.press("Save the enquiry")
    office.reads("Skim the back bedroom")
    job = Job.objects.get(what="Skim the back bedroom")
    assert job.customer == make.customer()
    return job
