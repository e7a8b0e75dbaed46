"""The wall chart's places: to scale, clipped to its weeks, nothing over another."""

import itertools
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from firm.engine.working_days import WorkingDays, england_bank_holidays
from jobs.engine.slots import Half
from jobs.engine.wall_chart import draw_chart, month_starts
from jobs.engine.wall_chart_values import Chart, CrewLine, Off, Trade, Visit

DAYS = WorkingDays(england_bank_holidays([2026]))
# 2026-03-09 is a Monday. Two weeks share 1072: ten worked days of ten parts and four
# weekend days of four are 116 parts, 92.4 for a worked day: 92, and 36 for the others.
MONDAY = date(2026, 3, 9)
LEFT, DAY, REST = 128, 92, 36


def visit(first: Half, last: Half, **facts) -> Visit:
    usual = {
        "job_id": 7,
        "crew_id": 1,
        "title": "14 Larch Row",
        "number": "7",
        "what": "Skim",
        "label": "Job 7",
        "dry_on": None,
        "follower": "mist coat",
    }
    return Visit(first=first, last=last, **(usual | facts))


def chart(*visits: Visit, trades=(), offs=(), first_on=MONDAY, weeks=2) -> Chart:
    return draw_chart(
        first_on=first_on,
        weeks=weeks,
        today=MONDAY,
        crews=[CrewLine(crew_id=1, name="Crew A"), CrewLine(crew_id=2, name="Crew B")],
        visits=visits,
        trades=trades,
        offs=offs,
        days=DAYS,
    )


def day(number: int) -> date:
    return MONDAY + timedelta(days=number)


def test_days_stand_side_by_side_and_weekends_are_narrow():
    columns = chart().columns
    assert [column.width for column in columns[:7]] == [DAY] * 5 + [REST] * 2
    assert columns[7].x == LEFT + 5 * DAY + 2 * REST
    assert columns[0].is_today
    assert columns[0].date_words == "9"


def test_a_narrow_weekend_leaves_its_date_out():
    # Six weeks: 30 x 10 + 12 x 4 = 348 parts of 1072, a worked day 30, a rest day 12.
    saturday = chart(weeks=6).columns[5]
    assert (saturday.width, saturday.date_words) == (12, "")


def test_a_bank_holiday_is_as_wide_as_a_day_and_marked():
    # GOV.UK: Good Friday, 3 April 2026.
    friday = chart(first_on=date(2026, 3, 30)).columns[4]
    assert (friday.is_holiday, friday.is_rest) == (True, True)
    assert friday.width > REST


def test_months_are_named_where_they_begin():
    starts = month_starts(chart(first_on=date(2026, 3, 30)).columns)
    assert [str(column.on) for column in starts] == ["2026-03-30", "2026-04-01"]


def test_a_block_lies_from_its_first_half_day_to_its_last():
    # Monday afternoon to Wednesday morning: from 128 + 46 to 128 + 2 x 92 + 46.
    block = chart(visit(Half(day(0), "pm"), Half(day(2), "am"))).rows[0].blocks[0]
    assert (block.x, block.x + block.width) == (175, 357)
    assert (block.words, block.more) == ("14 Larch Row", "7 Skim")


def test_a_narrow_block_falls_back_on_the_number_of_its_job():
    block = chart(visit(Half(day(0), "am"), Half(day(0), "am"))).rows[0].blocks[0]
    assert block.words == "7"


def test_a_block_is_clipped_to_the_weeks_shown():
    row = chart(visit(Half(day(-3), "am"), Half(day(0), "pm"))).rows[0]
    assert (row.blocks[0].x, row.blocks[0].width) == (LEFT + 1, DAY - 2)
    row = chart(visit(Half(day(11), "am"), Half(day(20), "am"))).rows[0]
    assert row.blocks[0].x + row.blocks[0].width == LEFT + 10 * DAY + 4 * REST - 1


def test_a_visit_outside_the_weeks_is_not_drawn():
    before = visit(Half(day(-7), "am"), Half(day(-4), "pm"))
    after = visit(Half(day(21), "am"), Half(day(22), "pm"))
    assert chart(before, after).rows[0].blocks == ()


def test_a_tail_pales_by_thirds_and_ends_where_the_next_trade_may_start():
    # Ends Monday; dry on Tuesday the 17th: wet Tuesday to Monday are seven days, so
    # three wet, two drying, two nearly dry (0 1 2 | 3 4 | 5 6).
    wet = visit(Half(day(0), "am"), Half(day(0), "pm"), dry_on=day(8))
    tail = chart(wet).rows[0].tails[0]
    assert [cell.wet for cell in tail.cells] == [3, 3, 3, 2, 2, 1, 1]
    assert tail.cells[0].x == LEFT + DAY
    assert tail.flag_x == LEFT + 6 * DAY + 2 * REST
    assert tail.flag_words == "mist coat"


def test_a_tail_after_a_morning_begins_at_dinner():
    wet = visit(Half(day(0), "am"), Half(day(0), "am"), dry_on=day(3))
    tail = chart(wet).rows[0].tails[0]
    assert (tail.first_x, tail.cells[0].width) == (LEFT + DAY // 2, DAY // 2)


def test_a_tail_that_runs_off_the_chart_has_no_flag():
    wet = visit(Half(day(11), "am"), Half(day(11), "pm"), dry_on=day(30))
    assert chart(wet).rows[0].tails[0].flag_x is None


def test_a_tail_from_before_is_shown_while_it_dries():
    wet = visit(Half(day(-4), "am"), Half(day(-3), "pm"), dry_on=day(1))
    row = chart(wet).rows[0]
    assert (row.blocks, len(row.tails[0].cells)) == ((), 1)
    assert row.tails[0].join_x == LEFT


def test_two_tails_at_once_take_two_lanes():
    first = visit(Half(day(0), "am"), Half(day(0), "am"), dry_on=day(7))
    second = visit(Half(day(0), "pm"), Half(day(0), "pm"), dry_on=day(7))
    one, two = chart(first, second).rows[0].tails
    assert two.y - one.y == 20
    assert one.end_y <= two.y


def test_a_trade_stands_at_the_end_of_its_day_and_an_unknown_one_at_the_visit():
    known = Trade(
        job_id=7, crew_id=1, name="Plumber", on=day(1), sure="promised", visit_on=day(2)
    )
    unknown = Trade(
        job_id=7, crew_id=1, name="Joiner", on=None, sure="unknown", visit_on=day(2)
    )
    gone = Trade(
        job_id=7, crew_id=1, name="Roofer", on=day(-9), sure="promised", visit_on=day(2)
    )
    marks = chart(trades=[known, unknown, gone]).rows[0].marks
    assert [(mark.x, mark.words) for mark in marks] == [
        (LEFT + 2 * DAY - 1, "Plumber out, promised"),
        (LEFT + 2 * DAY + 1, "Joiner: day not known"),
    ]
    assert marks[0].y != marks[1].y


def test_time_off_is_a_box_and_time_off_elsewhere_is_none():
    here = Off(crew_id=1, first_on=day(0), last_on=day(1), words="Off: holiday")
    gone = Off(crew_id=1, first_on=day(-9), last_on=day(-8), words="Off")
    (box,) = chart(offs=[here, gone]).rows[0].offs
    assert (box.x, box.width, box.words) == (LEFT, 2 * DAY, "Off: holiday")


def test_the_rows_of_crews_stand_one_under_another():
    first, second = chart(visit(Half(day(0), "am"), Half(day(1), "pm"))).rows
    assert first.end_y == second.y
    assert second.end_y == chart(visit(Half(day(0), "am"), Half(day(1), "pm"))).height


runs = st.tuples(st.integers(-20, 30), st.integers(0, 10), st.integers(1, 40))


@given(st.lists(runs, max_size=8), st.sampled_from([2, 3, 4, 6]))
def test_nothing_is_ever_drawn_off_the_paper_or_over_another_tail(spans, weeks):
    visits = [
        visit(Half(day(n), "am"), Half(day(n + m), "pm"), dry_on=day(n + m + dries))
        for n, m, dries in spans
    ]
    drawn = chart(*visits, weeks=weeks)
    row = drawn.rows[0]
    boxes = [(box.x, box.x + box.width) for box in row.blocks]
    cells = [
        (tail.y, cell.x, cell.x + cell.width)
        for tail in row.tails
        for cell in tail.cells
    ]
    for start, end in [*boxes, *((start, end) for _, start, end in cells)]:
        assert LEFT <= start < end <= drawn.width
    for lane in {y for y, _, _ in cells}:
        spread = sorted((start, end) for y, start, end in cells if y == lane)
        assert all(one[1] <= two[0] for one, two in itertools.pairwise(spread))
