"""An order is written, numbered and sent once, and ticked off when it is dropped."""

from datetime import date

import pytest

from firm.actions.papers import register_press
from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice, NumberSeries, Paper
from jobs.actions.order import (
    Arrived,
    call_off_order,
    draft_order,
    order_stands,
    send_order,
    tick_off_order,
)
from jobs.documents import order as papers
from jobs.models import Job, MaterialNeed, MaterialOrder, OrderLine
from tests import make
from tests.making import diary

pytestmark = pytest.mark.django_db

# make.TODAY is Wednesday 4 March 2026.
FRIDAY = date(2026, 3, 6)


@pytest.fixture(autouse=True)
def the_firm():
    make.firm()
    register_press(papers.KIND, papers.press)


@pytest.fixture
def job() -> Job:
    made = diary.booked_job()
    diary.need(made)
    diary.need(made, item_code="M-GRIT", item="Grit primer", pack="10 kg tub", packs=1)
    return made


def draft(job: Job, **facts) -> MaterialOrder:
    facts.setdefault("packs", {need.pk: need.packs for need in job.needs.all()})
    facts.setdefault("merchant_id", diary.merchant().pk)
    facts.setdefault("wanted_on", FRIDAY)
    facts.setdefault("by", make.office())
    return draft_order(job.pk, now=make.NOW, **facts)


def send(order: MaterialOrder) -> MaterialOrder:
    return send_order(order.pk, by=make.office(), now=make.NOW)


def test_a_draft_holds_whole_packs_and_no_number(job):
    order = draft(job)
    lines = list(order.lines.values_list("need__item", "packs"))
    assert lines == [("Finish plaster", 3), ("Grit primer", 1)]
    assert (order.state, order.number) == ("draft", None)


def test_only_what_is_ticked_is_ordered(job):
    finish = job.needs.get(item="Finish plaster")
    order = draft(job, packs={finish.pk: 4})
    assert [line.packs for line in order.lines.all()] == [4]


def test_a_need_is_ordered_once(job):
    draft(job)
    with pytest.raises(Refused, match="ordered some of this meanwhile"):
        draft(job)
    assert MaterialOrder.objects.count() == 1


def test_a_dropped_draft_frees_what_it_held(job):
    order = draft(job)
    call_off_order(order.pk, by=make.office(), now=make.NOW)
    assert draft(job).lines.count() == 2


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"wanted_on": date(2026, 3, 3)}, "Tue 3 Mar has gone"),
        ({"wanted_on": date(2026, 3, 7)}, "weekend or a bank holiday"),
        ({"packs": {}}, "Tick at least one thing"),
        ({"merchant_id": 0}, "not in the book"),
    ],
)
def test_an_order_that_cannot_be_is_refused(job, facts, words):
    with pytest.raises(Refused, match=words):
        draft(job, **facts)
    assert not MaterialOrder.objects.exists()
    assert draft(job)


def test_no_packs_of_a_thing_is_refused_by_name(job):
    packs = {need.pk: 0 for need in job.needs.all()}
    with pytest.raises(Refused, match="Finish plaster: give at least one pack"):
        draft(job, packs=packs)


def test_another_jobs_need_cannot_be_slipped_in(job):
    stranger = diary.need(make.job("won"))
    mine = job.needs.first()
    with pytest.raises(Refused, match="not needed on this job"):
        draft(job, packs={mine.pk: 1, stranger.pk: 1})


def test_only_the_office_orders(job):
    with pytest.raises(Refused, match="Only the office"):
        draft(job, by=make.lead())
    assert draft(job, by=make.owner())


def test_sending_numbers_the_order_and_leaves_it_in_the_tray(job):
    order = send(draft(job))
    assert (order.state, order.number, order.sent_at) == ("sent", 1, make.NOW)
    letter = Notice.objects.get(kind="order")
    assert letter.to_address == "yard@example.com"
    assert letter.subject == "Order 1: drop on Fri 6 Mar 2026"
    assert "  3 × 25 kg bag  Finish plaster\n" in letter.text
    assert "14 Larch Row\nSandford\nZZ1 2AB" in letter.text
    assert letter.paper == order.paper
    assert "£" not in letter.text


def test_an_order_is_sent_once_and_takes_one_number(job):
    order = send(draft(job))
    with pytest.raises(Refused, match="not as it was"):
        send(order)
    assert NumberSeries.objects.get(name="order").next_number == 2
    assert Notice.objects.filter(kind="order").count() == 1


def test_the_paper_says_what_the_letter_says(job):
    send(draft(job))
    snapshot = Paper.objects.get(kind="order").snapshot
    assert snapshot["title"] == "Order 1"
    assert snapshot["lines"][0] == {
        "item": "Finish plaster",
        "pack": "25 kg bag",
        "packs": 3,
    }
    assert "price" not in str(snapshot)


def arrive(order: MaterialOrder, **changes: Arrived) -> None:
    lines = {
        line.pk: changes.get(line.need.item_code[2:], Arrived(packs=line.packs))
        for line in order.lines.all()
    }
    tick_off_order(order.pk, lines=lines, by=make.office(), now=make.NOW)


def test_a_full_drop_is_ticked_off_line_by_line(job):
    order = send(draft(job))
    arrive(order)
    order.refresh_from_db()
    assert order.state == "arrived"
    assert [line.arrived_packs for line in order.lines.all()] == [3, 1]
    assert HistoryLine.objects.get(event="order-arrived").words == (
        "Order 1 is on site."
    )


def test_what_came_short_or_broken_is_written_down(job):
    order = send(draft(job))
    arrive(order, FIN=Arrived(packs=2, trouble="one bag burst."))
    assert HistoryLine.objects.get(event="order-arrived").words == (
        "Order 1 is on site. Finish plaster: 1 short of 3, one bag burst."
    )
    line = OrderLine.objects.get(need__item="Finish plaster")
    assert (line.arrived_packs, line.trouble) == (2, "one bag burst.")


def test_more_than_was_ordered_is_refused(job):
    order = send(draft(job))
    with pytest.raises(Refused, match="4 came and 3 were ordered"):
        arrive(order, FIN=Arrived(packs=4))
    order.refresh_from_db()
    assert order.state == "sent"


def test_a_line_left_out_is_asked_for(job):
    order = send(draft(job))
    with pytest.raises(Refused, match="Say how many came: Finish plaster"):
        tick_off_order(order.pk, lines={}, by=make.office(), now=make.NOW)


def test_an_unsent_order_cannot_arrive_and_a_sent_one_cannot_be_dropped(job):
    order = draft(job)
    with pytest.raises(Refused, match="not as it was"):
        arrive(order)
    send(order)
    with pytest.raises(Refused, match="not as it was"):
        call_off_order(order.pk, by=make.office(), now=make.NOW)


def test_the_letter_stands_down_once_the_drop_has_come(job):
    order = send(draft(job))
    letter = Notice.objects.get(kind="order")
    assert order_stands(letter, make.NOW) is None
    arrive(order)
    assert order_stands(letter, make.NOW) == "It has been dropped already."


def test_a_need_with_an_order_line_cannot_be_lost(job):
    draft(job)
    assert MaterialNeed.objects.filter(order_line__isnull=False).count() == 2
