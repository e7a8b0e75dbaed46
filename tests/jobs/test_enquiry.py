from dataclasses import replace
from datetime import date

import pytest

from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice
from jobs.actions.enquiry import AskedFacts, SiteFacts, edit_enquiry, take_enquiry
from jobs.models import Customer, Enquiry, Job, Site, Visit
from tests import make

pytestmark = pytest.mark.django_db


def take(call, *, by=None, now=make.NOW):
    return take_enquiry(call, by=by or make.office(), now=now)


def nothing_is_saved():
    kept = (Customer, Site, Job, Enquiry, Visit, Notice, HistoryLine)
    return not any(model.objects.exists() for model in kept)


def test_a_call_writes_down_who_where_and_what():
    job = take(make.call())
    assert (job.number, job.stage, job.what) == (1, "enquiry", "Skim two bedrooms")
    customer = Customer.objects.get()
    assert (customer.phone, customer.postcode) == ("+447700900123", "ZZ1 2AB")
    assert customer.address == "14 Larch Row\nSandford"
    site = Site.objects.get()
    assert (site.postcode_key, site.way_in, site.district) == (
        "ZZ12AB",
        "Side gate",
        "ZZ1",
    )
    assert Enquiry.objects.get().taken_by == make.office()
    line = HistoryLine.objects.get(about_kind="job")
    assert line.words == "Rosa Reed asked for: Skim two bedrooms."


def test_a_call_with_a_visit_confirms_it_and_reminds():
    make.firm()
    job = take(make.call(visit=make.visit_facts()))
    assert Job.objects.get(pk=job.pk).stage == "visit"
    assert Visit.objects.get().job == job
    confirmed, reminder = Notice.objects.order_by("due_at")
    assert (confirmed.kind, confirmed.due_at) == ("visit-confirmed", make.NOW)
    assert "Monday 9 March at 9.30 am" in confirmed.text
    assert "01632 960100" in confirmed.text
    assert confirmed.job_id == job.pk
    # The working day before Monday 9 March 2026 is Friday 6 March; 17:00 is GMT.
    assert reminder.kind == "visit-tomorrow"
    assert reminder.due_at.isoformat() == "2026-03-06T17:00:00+00:00"


def test_a_caller_without_email_gets_no_letter():
    make.firm()
    who = replace(make.call().who, email="")
    take(make.call(who=who, visit=make.visit_facts()))
    assert Visit.objects.exists()
    assert not Notice.objects.exists()


def test_a_contractor_does_not_live_on_the_site():
    take(make.call(who=replace(make.call().who, kind="main")))
    assert Customer.objects.get().address == ""


@pytest.mark.parametrize(
    "again",
    [
        {"name": "R. Reed", "phone": "+44 7700 900123"},
        {"name": "rosa reed", "phone": "01632 960111"},
    ],
    ids=["same number", "same name and postcode"],
)
def test_somebody_in_the_book_is_not_entered_twice(again):
    take(make.call())
    who = replace(make.call().who, **again)
    with pytest.raises(Refused, match="in the book already") as refusal:
        take(make.call(who=who))
    assert refusal.value.field == "somebody_else"
    assert (Customer.objects.count(), Job.objects.count()) == (1, 1)
    take(make.call(who=who, is_somebody_else=True))
    assert Customer.objects.count() == 2


def test_the_same_name_and_number_is_never_somebody_else():
    take(make.call())
    who = replace(make.call().who, name="ROSA REED")
    with pytest.raises(Refused, match="with that number"):
        take(make.call(who=who, is_somebody_else=True))
    assert Customer.objects.count() == 1


def test_a_known_customer_keeps_name_and_place_and_takes_news():
    first = take(make.call())
    news = replace(make.call().who, name="Typed over", email="new@example.com")
    second = take(make.call(who=news, customer_id=first.customer_id))
    customer = Customer.objects.get()
    assert (customer.name, customer.email) == ("Rosa Reed", "new@example.com")
    assert second.site == first.site
    assert second.number == first.number + 1


def test_another_house_of_the_same_customer_is_another_place():
    first = take(make.call())
    where = SiteFacts(address="2 Ash Lane", postcode="ZZ9 9ZZ")
    second = take(make.call(where=where, customer_id=first.customer_id))
    assert second.site != first.site
    assert Site.objects.count() == 2


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"who": {"phone": "", "email": ""}}, "phone"),
        ({"who": {"phone": "07700 9001"}}, ""),
        ({"where": {"postcode": "nowhere"}}, ""),
        ({"asked": {"what": " "}}, "what"),
        ({"asked": {"wanted_by_on": date(2026, 3, 3)}}, "wanted_by_on"),
    ],
)
def test_a_refused_call_saves_nothing_at_all(changes, field):
    office, call = make.office(), make.call()
    changed = {
        name: replace(getattr(call, name), **columns)
        for name, columns in changes.items()
    }
    with pytest.raises(Refused) as refusal:
        take(replace(call, **changed), by=office)
    assert refusal.value.field == field
    assert nothing_is_saved()


def test_a_taken_visit_time_saves_nothing_of_the_call():
    make.firm()
    taken = make.visit()
    with pytest.raises(
        Refused, match="Olive has another visit on Mon 9 Mar"
    ) as refusal:
        take(
            make.call(
                who=replace(make.call().who, phone="01632 960222", name="Mo Ash"),
                where=SiteFacts(address="1 Elm", postcode="ZZ3 3CC"),
                visit=make.visit_facts(on=taken.on, at=taken.at),
            )
        )
    assert refusal.value.field == "visit"
    assert Customer.objects.filter(name="Mo Ash").count() == 0
    assert Job.objects.count() == 1


@pytest.mark.parametrize("role", ["lead", "crew", "books", "clock"])
def test_only_the_desk_takes_calls(role):
    with pytest.raises(Refused, match="Only the office"):
        take(make.call(), by=make.person(role))
    assert nothing_is_saved()


def test_what_was_asked_can_be_put_right():
    job = make.job()
    asked = AskedFacts(what="Skim three bedrooms", said="Three after all.")
    where = SiteFacts(address="14 Larch Row", postcode="zz1 2ab", parking="Permit")
    edit_enquiry(job.pk, where, asked, by=make.office(), now=make.NOW)
    job.refresh_from_db()
    assert job.what == "Skim three bedrooms"
    assert Site.objects.get(pk=job.site_id).parking == "Permit"
    assert Enquiry.objects.get(job=job).said == "Three after all."
