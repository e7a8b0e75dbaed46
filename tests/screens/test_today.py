"""Today: what needs doing, worked out from the facts, for each role."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from firm.desk.today import pieces_for
from firm.models import Notice
from jobs.models import Job
from tests import make

pytestmark = pytest.mark.django_db
TODAY = make.TODAY


def titles(person) -> dict[str, list[str]]:
    pieces = pieces_for(person, today=TODAY)
    return {piece.title: [line.words for line in piece.lines] for piece in pieces}


def test_an_empty_firm_needs_nothing():
    make.firm()
    assert pieces_for(make.owner(), today=TODAY) == []


def test_each_stage_asks_for_the_next_step():
    make.job("enquiry", what="Patch a hall")
    make.job("looked", what="Skim a lounge")
    make.job("won", what="Board a ceiling")
    make.finished_job(what="Float two walls")
    found = titles(make.office())
    assert found["Rang in, no visit yet"] == ["Rosa Reed: Patch a hall"]
    assert found["Looked at, to be quoted"] == ["Rosa Reed: Skim a lounge"]
    assert found["Said yes: when?"] == ["Rosa Reed: Board a ceiling"]
    assert found["Finished, to be billed"] == ["Rosa Reed: Float two walls"]


def test_the_next_step_done_the_line_goes():
    job = make.finished_job()
    assert "Finished, to be billed" in titles(make.office())
    make.bill(job)
    assert "Finished, to be billed" not in titles(make.office())


def test_a_late_bill_shows_until_it_is_paid():
    bill = make.bill(on=TODAY - timedelta(days=20))
    assert titles(make.bookkeeper())["Owed and late"] == ["Bill 1, Rosa Reed"]
    make.payment(bill, str(bill.payable_gbp))
    assert "Owed and late" not in titles(make.bookkeeper())


def test_a_letter_nobody_is_sure_of_comes_first():
    make.bill()
    Notice.objects.update(state="unsure", why="The line dropped.", settled_at=make.NOW)
    assert next(iter(titles(make.office()))) == "Letters that need a decision"


def test_the_bookkeeper_sees_money_and_no_enquiries():
    make.job("enquiry")
    make.finished_job()
    found = titles(make.bookkeeper())
    assert "Finished, to be billed" in found
    assert "Rang in, no visit yet" not in found


def test_the_page_opens_for_the_desk_and_sends_the_crew_to_its_sheets(client):
    make.firm()
    make.job("enquiry", what="Patch a hall", opened_at=timezone.now())
    client.force_login(make.owner())
    page = client.get(reverse("firm:today"))
    assert page.status_code == 200
    assert "Patch a hall" in page.content.decode()
    client.force_login(make.plasterer(crew=make.crew()))
    assert client.get(reverse("firm:today")).url == reverse("jobs:tomorrow")


def test_a_busy_day_costs_a_bounded_number_of_reads(django_assert_max_num_queries):
    for _ in range(12):
        make.job("enquiry")
        make.job("won")
        make.bill(on=TODAY - timedelta(days=30))
    owner = make.owner()
    assert Job.objects.count() == 36
    with django_assert_max_num_queries(25):
        pieces_for(owner, today=TODAY)
