"""What coming jobs need, and by when it must be ordered."""

from datetime import date

import pytest

from jobs.actions.order import Arrived, send_order, tick_off_order
from jobs.queries.materials import (
    coming_needs,
    drop_day,
    drops_due,
    orders_to_place,
    orders_under_way,
)
from tests import make
from tests.making import diary

pytestmark = pytest.mark.django_db

# make.TODAY is Wednesday 4 March 2026.
MONDAY = date(2026, 3, 9)


def test_needs_come_by_the_day_they_are_wanted_and_dateless_ones_last():
    waiting = diary.won_job()
    late = diary.booked_job(date(2026, 3, 16), crew=make.crew("Red crew"))
    soon = diary.booked_job(MONDAY)
    for job in (waiting, late, soon):
        diary.need(job)
    assert [(row.job, row.needed_on) for row in coming_needs(make.TODAY)] == [
        (soon, MONDAY),
        (late, date(2026, 3, 16)),
        (waiting, None),
    ]


def test_a_job_that_needs_nothing_is_left_out():
    diary.booked_job()
    assert coming_needs(make.TODAY) == []


@pytest.mark.parametrize(
    ("needed_on", "lead_working_days", "order_by_on"),
    [
        # Two working days before Monday 9 March: Friday 6, Thursday 5.
        (MONDAY, 2, date(2026, 3, 5)),
        # Before Wednesday 8 April: Tuesday 7; Easter skipped (GOV.UK: 3 and 6 April),
        # so Thursday 2 April.
        (date(2026, 4, 8), 2, date(2026, 4, 2)),
        (MONDAY, 0, MONDAY),
    ],
)
def test_the_last_day_to_order_counts_the_merchants_working_days(
    needed_on, lead_working_days, order_by_on
):
    diary.merchant(lead_working_days=lead_working_days)
    diary.need(diary.booked_job(needed_on))
    (row,) = coming_needs(make.TODAY)
    assert [(each.on, each.is_late) for each in row.order_by] == [(order_by_on, False)]


def test_orders_are_to_be_placed_from_the_last_day_on():
    diary.merchant()
    job = diary.booked_job(MONDAY)
    diary.need(job)
    assert orders_to_place(date(2026, 3, 4)) == []
    assert [row.job for row in orders_to_place(date(2026, 3, 5))] == [job]
    late = orders_to_place(date(2026, 3, 6))
    assert late[0].order_by[0].is_late


def test_what_is_ordered_is_not_asked_for_again():
    diary.merchant()
    job = diary.booked_job(MONDAY)
    diary.order(job, [diary.need(job)])
    (row,) = coming_needs(make.TODAY)
    assert row.to_order == ()
    assert row.lines[0].words == "Written, not sent"
    assert orders_to_place(MONDAY) == []


def test_a_need_goes_from_not_ordered_to_on_site():
    make.firm()
    job = diary.booked_job(MONDAY)
    order = diary.order(job, [diary.need(job)], wanted_on=date(2026, 3, 6))
    send_order(order.pk, by=make.office(), now=make.NOW)

    def stands():
        line = coming_needs(make.TODAY)[0].lines[0]
        return line.kind, line.words

    assert stands() == ("wait", "Due Fri 6 Mar")
    line = order.lines.get()
    came = {line.pk: Arrived(packs=1, trouble="two burst")}
    tick_off_order(order.pk, lines=came, by=make.office(), now=make.NOW)
    assert stands() == ("late", "2 short, two burst")


def test_a_drop_that_should_be_there_is_chased_until_ticked_off():
    make.firm()
    job = diary.booked_job(MONDAY)
    order = diary.order(job, [diary.need(job)], wanted_on=date(2026, 3, 6))
    assert list(orders_under_way()) == [order]
    send_order(order.pk, by=make.office(), now=make.NOW)
    assert list(drops_due(date(2026, 3, 5))) == []
    assert list(drops_due(date(2026, 3, 6))) == [order]
    line = order.lines.get()
    tick_off_order(
        order.pk, lines={line.pk: Arrived(packs=3)}, by=make.office(), now=make.NOW
    )
    assert list(drops_due(date(2026, 3, 6))) == []
    assert list(orders_under_way()) == []


def test_the_drop_is_asked_for_the_working_day_before():
    assert drop_day(MONDAY, make.TODAY) == date(2026, 3, 6)
    # The crew comes tomorrow: today is the soonest there is.
    assert drop_day(date(2026, 3, 5), make.TODAY) == make.TODAY


def test_the_list_asks_a_fixed_number_of_questions(django_assert_num_queries):
    diary.merchant()
    diary.need(diary.booked_job(MONDAY))
    # Merchants, jobs, needs with their orders, bookings.
    with django_assert_num_queries(4):
        coming_needs(make.TODAY)
    for n, name in enumerate(("Red crew", "Green crew")):
        job = diary.booked_job(date(2026, 3, 16 + n), crew=make.crew(name))
        diary.order(job, [diary.need(job)])
    with django_assert_num_queries(4):
        coming_needs(make.TODAY)
