"""One job from the phone call to the money, as the people do it, through real pages,
a real worker and a real mail server, at a desk and on a phone."""

import re
from datetime import datetime, time

import pytest
from django.utils.timezone import make_aware
from playwright.sync_api import expect

from firm.models import Notice, Person
from firm.tasks.rounds import minute
from invoices.actions.chaser import leave_chasers
from invoices.models import Bill
from jobs.models import Booking, Job
from jobs.queries.calendar import working_days_around
from quotes.models import Acceptance
from tests import make
from tests.browser.running import Running, papers_in, text_of
from tests.browser.walking import Walker

pytestmark = [
    pytest.mark.browser,
    pytest.mark.slow,
    pytest.mark.django_db(transaction=True),
]
ROSA = "rosa@example.com"
YARD = "orders@sandpit.example.com"
LINK = re.compile(r"https?://[^/\s]+(/l/[\w-]+/)")


@pytest.fixture(params=["desk", "phone"])
def office(request, running) -> Walker:
    page = request.getfixturevalue(request.param)
    walker = Walker(page, running.address, "office")
    walker.sign_in("office@example.com")
    return walker


def test_a_job_goes_from_the_phone_call_to_the_money(office, running, customer, crew):
    reader = Walker(customer, running.address, "customer")
    mate = Walker(crew, running.address, "crew")
    job = the_phone_rings(office, running)
    the_look(office, job)
    what_goes_on_it(office, job)
    the_quote(office, reader, running, job)
    the_diary(office, job)
    materials(office, running, job)
    tomorrow(office, mate, running, job)
    done(office, reader, running, job)
    today(office, mate)


def the_phone_rings(office: Walker, running: Running) -> Job:
    office.open("/", "today-quiet")
    office.open("/enquiries/new/", "the-call")
    office.field("Name").press_sequentially("ros", delay=30)
    office.press("This is them")
    expect(office.field("Phone")).to_have_value("07700 900123")
    office.field("The job in a few words").fill("Skim the back bedroom")
    office.field("What they said").fill("Old paint. Pays in cash if asked.")
    beside = office.page.get_by_label(re.compile("Nell Nextdoor's visit"))
    beside.first.check()
    office.look("the-call-filled-in")
    office.press("Save the enquiry")
    office.reads("Skim the back bedroom")
    office.look("the-job")
    job = Job.objects.get(what="Skim the back bedroom")
    visit = job.visits.get()
    assert (job.customer.name, visit.on) == ("Rosa Reed", make.tomorrow())
    letter = text_of(running.letter_to(ROSA, " comes on "))
    assert f"{visit.on:%A} {visit.on.day} {visit.on:%B}" in letter
    return job


def the_look(office: Walker, job: Job) -> None:
    office.open(f"/jobs/{job.pk}/look/", "look-start")
    office.field("Year of the building").fill("1998")
    office.press("Start measuring")
    office.page.get_by_role("link", name="Measure the first room").click()
    office.field("Room").fill("Back bedroom")
    for label, typed in (("Length", "4.2 m"), ("Width", "3600"), ("Height", "2400")):
        office.field(label).fill(typed)
    office.field("What is on the wall now").select_option("B06")
    office.field("What is on the ceiling now").select_option("B08")
    office.look("look-room-typed")
    office.press("Save the room")
    expect(office.page.get_by_role("heading", level=1)).to_contain_text("Back bedroom")
    put_in(office, "door", "Wall A", "800", "2000", **{"From the left end": "200"})
    put_in(
        office,
        "window",
        "Wall C",
        "1200",
        "1050",
        **{"From the left end": "1500", "Above the floor": "900"},
    )
    # 2 × (4.20 + 3.60) × 2.40 = 37.44, less a door of 1.60 and a window of 1.26,
    # and a ceiling of 4.20 × 3.60 = 15.12: 49.70 of true surface.
    office.reads(re.compile(r"True surface\s+49\.70"))
    office.look("look-room")
    office.open(f"/jobs/{job.pk}/look/", "look")


def put_in(
    office: Walker, kind: str, where: str, width: str, height: str, **more: str
) -> None:
    office.page.get_by_role(
        "link", name=re.compile("opening", re.IGNORECASE)
    ).first.click()
    office.field("What is it").select_option(kind)
    office.field("Where").select_option(label=where)
    office.field("Width").fill(width)
    office.field("Height").fill(height)
    for label, typed in more.items():
        office.field(label).fill(typed)
    office.look(f"look-{kind}")
    office.press("Save")
    expect(office.page.get_by_role("heading", level=1)).to_contain_text("Back bedroom")


def what_goes_on_it(office: Walker, job: Job) -> None:
    office.open(f"/jobs/{job.pk}/look/spec/", "what-goes-on-it")
    office.reads("Grit primer")
    office.reads("Tape every joint")
    office.open(f"/jobs/{job.pk}/look/")
    office.press("Finish the look")
    expect(office.page).to_have_url(f"{office.address}/jobs/{job.pk}/")


def the_quote(office: Walker, reader: Walker, running: Running, job: Job) -> None:
    office.open(f"/jobs/{job.pk}/quote/", "quote-before")
    office.press("Work out the quote")
    office.reads("Send version 1")
    office.look("quote-worked-out")
    office.press("Send the quote")
    office.reads("stands until")
    office.look("quote-sent")
    letter = running.letter_to(ROSA, "Our quote for")
    assert papers_in(letter)[0].startswith(b"%PDF")
    key = LINK.search(text_of(letter))
    assert key is not None
    reader.open(key[1], "quote")
    reader.field("Your name").fill("Rosa Reed")
    reader.page.get_by_label(re.compile("Please start within")).check()
    form = reader.page.locator("form").filter(has_text="I accept this quote")
    sent_twice = form.evaluate("form => Object.fromEntries(new FormData(form))")
    reader.press("I accept this quote")
    reader.reads("has been accepted")
    reader.look("quote-accepted")
    again = reader.page.request.post(
        f"{reader.address}/letters/quote/yes/",
        form=sent_twice,
        headers={"Referer": reader.page.url},
    )
    assert again.status == 422
    assert "This quote has been accepted" in again.text()
    assert Acceptance.objects.get().typed_name == "Rosa Reed"


def the_diary(office: Walker, job: Job) -> None:
    first_on = make.tomorrow()
    office.open(f"/jobs/{job.pk}/when/", "when")
    for crew, taken in (("Red crew", True), ("Blue crew", False)):
        office.field("Crew").select_option(label=crew)
        office.field("First day").fill(first_on.isoformat())
        office.field("Start").select_option("am")
        office.page.locator("#by-hand-form").get_by_role("button").click()
        if taken:
            office.reads("Red crew is already on job")
            expect(office.field("First day")).to_have_value(first_on.isoformat())
            office.look("when-clash")
    office.reads("Blue crew")
    assert Booking.objects.get(job=job).first_on == first_on
    office.open("/diary/", "diary")
    # On a phone the chart gives way to a list of days.
    office.reads("Blue crew")
    assert job.site.district in office.says() or "Larch" in office.says()


def materials(office: Walker, running: Running, job: Job) -> None:
    office.open("/materials/", "materials")
    office.open(f"/jobs/{job.pk}/order/")
    office.field("Merchant").select_option(label="Sandpit Supplies")
    office.field("Drop on").fill(make.tomorrow().isoformat())
    office.look("order-new")
    office.press("Write the order")
    office.reads("Drop the order")
    office.look("order-draft")
    office.press("Send it to Sandpit Supplies")
    office.reads("What came")
    letter = running.letter_to(YARD, "Order 1")
    assert papers_in(letter)[0].startswith(b"%PDF")
    office.press("It is on site")
    office.reads("On site, ")
    office.look("order-arrived")


def tomorrow(office: Walker, mate: Walker, running: Running, job: Job) -> None:
    mate.sign_in("crew@example.com")
    mate.look("tomorrow")
    mate.page.get_by_role("link", name=re.compile("Larch|Skim")).first.click()
    mate.reads("Back bedroom")
    mate.look("sheet")
    for secret in ("£", ROSA, "Pays in cash"):
        assert secret not in mate.page.content()
    mate.field("Write a note").fill("Switch plates are off.")
    mate.page.locator("form", has_text="Write a note").get_by_role("button").click()
    mate.reads("Switch plates are off.")
    minute()
    kinds = Notice.objects.filter(kind__startswith="evening", job_id=job.pk)
    assert {n.to_address for n in kinds} == {
        ROSA,
        "lead@example.com",
        "crew@example.com",
    }
    office.open("/tray/", "tray")
    for notice in kinds.filter(state="waiting"):
        office.open(f"/tray/{notice.pk}/")
        office.press("Send it now")
    for notice in kinds:
        assert running.letter_to(notice.to_address, notice.subject)


def done(office: Walker, reader: Walker, running: Running, job: Job) -> None:
    office.open(f"/jobs/{job.pk}/", "job-booked")
    office.press("Finished today")
    office.open(f"/jobs/{job.pk}/bill/", "bill-before")
    office.press("Issue the bill")
    office.reads("Bill 1")
    office.look("bill")
    bill = Bill.objects.get()
    assert (bill.number, bill.job_id) == (1, job.pk)
    letter = running.letter_to(ROSA, "Bill 1")
    assert papers_in(letter)[0].startswith(b"%PDF")
    key = LINK.search(text_of(letter))
    assert key is not None
    reader.open(key[1], "bill")
    reader.reads("12345678")
    pay(office, running, bill)


def pay(office: Walker, running: Running, bill: Bill) -> None:
    later = datetime.combine(
        working_days_around(bill.due_on).add(bill.due_on, 8), time(10)
    )
    chased = leave_chasers(
        Bill.objects.unpaid(), by=Person.objects.clock(), now=make_aware(later)
    )
    waiting = Notice.objects.get(kind="chase")
    assert (chased, waiting.state) == (1, "waiting")
    office.open(f"/bills/{bill.pk}/")
    office.page.get_by_role("link", name="Enter a payment").click()
    office.look("payment")
    office.press("Enter the payment")
    expect(office.page.get_by_role("link", name="Take back")).to_be_visible()
    office.look("bill-paid")
    waiting.refresh_from_db()
    assert (waiting.state, waiting.why) == ("stopped", "The bill has been paid.")
    office.open(f"/tray/{waiting.pk}/", "chaser-stopped")
    office.reads("The bill has been paid.")
    office.open("/money/", "money")


def today(office: Walker, mate: Walker) -> None:
    office.open("/", "today")
    office.open("/jobs/", "jobs")
    office.open("/firm/", "firm")
    mate.open("/", "today")
    for email in ("owner@example.com", "books@example.com"):
        office.page.context.clear_cookies()
        office.sign_in(email)
        office.open("/", f"today-{email.partition('@')[0]}")
