"""The demo firm: planted by the pages' own actions, whatever day it is."""

from collections.abc import Iterator
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import transaction
from django.test import Client
from django.urls import reverse
from django.utils.timezone import now as the_clock

from firm.desk.today import pieces_for
from firm.management.demo import told
from firm.management.demo.days import Days, moment
from firm.management.demo.people import PASSWORD
from firm.management.demo.plant import NEVER_SENT, Planted, plant
from firm.models import Crew, Notice, Paper, Person
from invoices.models import Bill, BillHold
from invoices.queries.bill import finished_not_billed, owed_by_age, unpaid_bills
from jobs.engine import contact
from jobs.models import BookedHalf, Customer, Job, MaterialOrder, Merchant
from jobs.queries.tomorrow import next_working_day
from quotes.models import QuoteVersion, Room


@pytest.fixture(scope="module")
def planted(django_db_setup, django_db_blocker) -> Iterator[Planted]:
    """The demo once for the whole module, planted today and taken back after it."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield plant(now=the_clock())
        transaction.set_rollback(True)


@pytest.fixture
def demo(planted, db) -> Planted:
    return planted


def test_what_was_planted_holds(demo):
    said = StringIO()
    call_command("audit", stdout=said)
    assert "hold" in said.getvalue()


def test_jobs_stand_at_every_stage(demo):
    counted = {stage: Job.objects.at_stage(stage).count() for stage in Job.Stage}
    least = {"enquiry": 3, "visit": 4, "looked": 3, "quoted": 5}
    least |= {"won": 3, "booked": 7, "done": 15, "lost": 3}
    assert sum(counted.values()) >= 40
    assert {s: n for s, n in least.items() if counted[Job.Stage(s)] < n} == {}
    assert demo.jobs == {stage.label: counted[stage] for stage in Job.Stage}


def test_money_has_every_age_and_every_reason(demo):
    today = Days(the_clock()).today
    ages = owed_by_age(list(unpaid_bills()), today=today)
    assert [words for words, _, count in ages if count == 0] == []
    kinds = set(BillHold.objects.values_list("kind", flat=True))
    assert kinds >= {"dispute", "promise"}
    assert finished_not_billed().exists()
    part_paid = [b for b in unpaid_bills() if 0 < b.paid_gbp < b.payable_gbp]
    assert part_paid
    assert Bill.objects.with_balance().filter(owed_gbp__lt=1).count() >= 5


def test_quotes_are_fresh_silent_run_out_and_turned_down(demo):
    today = Days(the_clock()).today
    sent = QuoteVersion.objects.out().filter(quote__job__stage="quoted")
    assert sent.filter(valid_until_on__lt=today).exists()
    assert sent.filter(valid_until_on__gte=today).count() >= 4
    states = set(QuoteVersion.objects.values_list("state", flat=True))
    assert states == {"draft", "sent", "accepted", "declined", "replaced"}


def test_orders_are_written_under_way_on_site_and_short(demo):
    states = set(MaterialOrder.objects.values_list("state", flat=True))
    assert states >= {"draft", "sent", "arrived"}
    assert MaterialOrder.objects.filter(lines__trouble="Two bags wet").exists()
    assert Merchant.objects.count() == 2


def test_every_crew_is_out_today_and_tomorrow(demo):
    days = Days(the_clock())
    crews = set(Crew.objects.values_list("pk", flat=True))
    for day in (days.on(0), next_working_day(days.today)):
        out = BookedHalf.objects.filter(on=day)
        assert set(out.values_list("crew_id", flat=True)) == crews
    ahead = BookedHalf.objects.filter(on__gt=days.today + timedelta(days=10))
    assert ahead.exists()


def test_today_has_something_for_everybody_at_the_desk(demo):
    today = Days(the_clock()).today
    asked = {
        person.email: [piece.title for piece in pieces_for(person, today=today)]
        for person in Person.objects.staff()
    }
    assert len(asked["owner@example.com"]) >= 8
    assert "Owed and late" in asked["books@example.com"]
    assert "Past their last day" in asked["lead@example.com"]


def test_no_letter_of_the_past_goes_out(demo):
    midnight = moment(Days(the_clock()).today, "00:00")
    assert not Notice.objects.waiting().filter(due_at__lt=midnight).exists()
    stopped = Notice.objects.filter(state=Notice.State.STOPPED)
    assert stopped.filter(why=NEVER_SENT).count() > 100
    assert not Notice.objects.filter(state=Notice.State.SENT).exists()


def test_a_paper_wanted_now_does_not_wait_for_the_old_ones(demo):
    in_a_minute = the_clock() + timedelta(minutes=1)
    assert Paper.objects.due(in_a_minute).count() < Paper.objects.count() / 3


def test_everybody_signs_in_with_the_one_password(demo):
    assert {person.role for person in Person.objects.staff()} == {
        *("owner", "office", "books", "lead", "crew")
    }
    for person in Person.objects.staff():
        assert Client().login(email=person.email, password=PASSWORD)


def test_a_home_with_a_firm_is_left_as_it_is(demo):
    before = Job.objects.count()
    with pytest.raises(CommandError, match="a firm in this home already"):
        call_command("plant_demo")
    assert Job.objects.count() == before


def test_nobody_in_it_exists(demo):
    """Ofcom keeps 07700 900xxx and 01632 960xxx for drama; ZZ is no postcode area."""
    for customer in Customer.objects.all():
        assert customer.phone.startswith(("+447700900", "+441632960"))
        assert contact.postcode(customer.postcode).startswith("ZZ")
        assert customer.email.endswith("example.com") or not customer.email
    letters = Notice.objects.exclude(to_address__endswith="example.com")
    assert not letters.exists()


def test_the_fixtures_name_only_what_they_tell():
    customers, rooms = the_names()
    assert {job.customer for job in told.the_jobs()} == customers
    looks = [job.look for job in told.the_jobs() if job.look]
    assert {name for look in looks for name in look.rooms} == rooms


def the_names() -> tuple[set[str], set[str]]:
    return set(told.the_customers()), set(told.the_rooms())


def every_page() -> Iterator[str]:
    """Give the address of each page, and of each row that has one."""
    for name in PAGES:
        yield reverse(name)
    for name, rows in PAGES_OF_A_ROW:
        yield from (reverse(name, args=[row.pk]) for row in rows())
    for room in Room.objects.filter(look__job__stage__in=["looked", "quoted"]):
        yield reverse("quotes:room", args=[room.look.job_id, room.pk])


PAGES = (
    *("firm:today", "firm:search", "firm:tray", "firm:tray-went", "firm:firm"),
    *("firm:figures", "firm:person-new", "firm:time-off", "firm:firm-change"),
    *("jobs:enquiries", "jobs:enquiry-new", "jobs:visit-times", "jobs:customers"),
    *("jobs:jobs", "jobs:diary", "jobs:materials", "jobs:merchants", "jobs:tomorrow"),
    *("quotes:rates", "invoices:money"),
)
PAGES_OF_A_ROW = (
    ("jobs:job", Job.objects.all),
    ("jobs:sheet", Job.objects.at_stage("booked").all),
    ("jobs:when", Job.objects.at_stage("won", "booked").all),
    ("jobs:order-new", Job.objects.at_stage("won", "booked").all),
    ("quotes:quote", Job.objects.at_stage("looked", "quoted", "done").all),
    ("quotes:look", Job.objects.filter(look__isnull=False).all),
    ("quotes:spec", Job.objects.at_stage("looked", "quoted").all),
    ("quotes:read", QuoteVersion.objects.all),
    ("invoices:bill-new", Job.objects.filter(stage="done", bills=None).all),
    ("invoices:bill", Bill.objects.issued().all),
    ("invoices:payment-new", Customer.objects.all),
    ("jobs:customer", Customer.objects.all),
    ("jobs:merchant", Merchant.objects.all),
    ("jobs:order", MaterialOrder.objects.all),
    ("firm:letter", Notice.objects.filter(kind__in=["quote", "chase", "booked"]).all),
    ("firm:person", Person.objects.staff),
)


@pytest.mark.slow
def test_every_page_opens_for_the_owner(demo, client):
    client.force_login(Person.objects.get(email="owner@example.com"))
    opened = {address: client.get(address).status_code for address in every_page()}
    assert {a: status for a, status in opened.items() if status != 200} == {}
    assert len(opened) > 300


@pytest.mark.parametrize("email", ["lead@example.com", "una@example.com"])
def test_a_crew_finds_its_next_day_on_its_phone(demo, client, email):
    person = Person.objects.get(email=email)
    client.force_login(person)
    next_on = next_working_day(Days(the_clock()).today)
    half = BookedHalf.objects.filter(crew=person.crew, on=next_on).first()
    sheet = reverse("jobs:sheet", args=[half.booking.job_id])
    assert sheet in client.get(reverse("jobs:tomorrow")).content.decode()
    assert "£" not in client.get(sheet).content.decode()
