"""What the diary shows: load, followers by the drying rule, the list by day."""

from datetime import date
from decimal import Decimal

import pytest

from jobs.queries.booking import won_not_booked
from jobs.queries.diary import diary_of
from jobs.queries.followers import followers_of
from tests import make
from tests.making import diary

pytestmark = pytest.mark.django_db

# make.TODAY is Wednesday 4 March 2026.
MONDAY = date(2026, 3, 9)


@pytest.fixture(autouse=True)
def the_firm():
    return make.firm()


def shown(weeks: int = 2, around: date = MONDAY):
    return diary_of(around, weeks, today=make.TODAY)


def words_on(day: date, page) -> list[str]:
    return [
        line.words for entry in page.days if entry.on == day for line in entry.lines
    ]


def test_the_diary_begins_on_the_monday_of_the_week_asked_for():
    page = shown(around=date(2026, 3, 12))
    assert (page.first_on, page.last_on) == (MONDAY, date(2026, 3, 22))
    assert (page.previous_on, page.next_on) == (date(2026, 2, 23), date(2026, 3, 23))


def test_a_crews_load_counts_half_days_it_could_work():
    # Two weeks are ten worked days, twenty halves, less two days off: sixteen.
    crew = make.crew()
    diary.booked_job(MONDAY, 5, crew=crew)
    diary.time_off(crew, date(2026, 3, 19), days=2)
    load = shown().loads[0]
    assert (load.booked, load.workable) == (5, 16)


def test_a_bank_holiday_is_named_and_takes_no_load():
    # GOV.UK: Good Friday 3 April, Easter Monday 6 April 2026: 8 of 10 days are left.
    make.crew()
    page = shown(around=date(2026, 3, 30))
    assert words_on(date(2026, 4, 3), page) == ["Bank holiday"]
    assert page.loads[0].workable == 16


def test_each_day_says_who_is_where_and_who_is_out():
    job = diary.booked_job(MONDAY, 3)
    make.other_trade(job, ready_on=date(2026, 3, 13))
    make.other_trade(job, trade="Plumber", sure="unknown")
    page = shown()
    where = f"job {job.number}, Skim two bedrooms at 14 Larch Row, ZZ1 2AB"
    assert words_on(MONDAY, page) == [
        f"Blue crew, all day: {where}",
        f"Plumber before job {job.number}: day not known",
    ]
    assert words_on(date(2026, 3, 10), page) == [f"Blue crew, morning: {where}"]
    assert words_on(date(2026, 3, 13), page) == [
        f"Electrician out (promised), before job {job.number}"
    ]


def test_a_visit_that_ended_before_still_dries_on_the_chart():
    diary.booked_job(date(2026, 3, 4), 6)
    # Ends Friday 6 March; five clear days (9 to 11 March and the weekend) run to the
    # 11th, so the mist coat may start on Thursday 12 March.
    page = shown()
    assert "Mist coat may start at job 1" in words_on(date(2026, 3, 12), page)
    row = page.chart.rows[0]
    assert row.blocks == ()
    # Five wet days from Saturday by thirds: 3 3 | 2 2 1, of which the last three show.
    assert [cell.wet for cell in row.tails[0].cells] == [2, 2, 1]


def follow(job, finish_on: date, *, clear: bool = True):
    return followers_of(job, finish_on=finish_on, counts_clear_days=clear)


# Sources: common practice for K1 (3 days) and K3 (1 mm a day); worked on calendars of
# GOV.UK: bank holidays 3 and 6 April 2026.
@pytest.mark.parametrize(
    ("drying_days", "finish_on", "clear", "starts_on"),
    [
        (3, date(2026, 3, 5), True, date(2026, 3, 9)),
        (3, date(2026, 3, 5), False, date(2026, 3, 9)),
        (13, date(2026, 3, 27), True, date(2026, 4, 10)),
        (13, date(2026, 3, 27), False, date(2026, 4, 9)),
        (17, date(2026, 3, 11), True, date(2026, 3, 30)),
    ],
)
def test_the_mist_coat_waits_until_the_plaster_is_dry(
    drying_days, finish_on, clear, starts_on
):
    job = make.job("booked")
    diary.work_item(job, drying_days=drying_days)
    mist = follow(job, finish_on, clear=clear)[0]
    assert (mist.start_on, mist.is_firm) == (starts_on, True)


def test_the_slowest_surface_decides():
    job = make.job("booked")
    diary.work_item(job, drying_days=3)
    diary.work_item(job, drying_days=13, area_m2=Decimal(1))
    assert follow(job, date(2026, 3, 27))[0].start_on == date(2026, 4, 10)


def test_each_trade_after_us_has_its_own_wait():
    # Finish Friday 6 March. Electrician: one clear day, so Sunday 8, Monday 9. Joiner
    # on solid work: seven, so Saturday 14, Monday 16. Tiler: 28, so Saturday 4 April
    # and, past Easter Monday, Tuesday 7 April.
    job = make.job("booked")
    diary.work_item(job, drying_days=13)
    after = {"side": "after"}
    make.other_trade(job, follows="second", **after)
    make.other_trade(job, trade="Joiner", follows="second", **after)
    make.other_trade(job, trade="Tiler", follows="tiles", **after)
    starts = {one.name: one.start_on for one in follow(job, date(2026, 3, 6))}
    assert starts == {
        "Mist coat": date(2026, 3, 20),
        "Electrician": MONDAY,
        "Joiner": date(2026, 3, 16),
        "Tiler": date(2026, 4, 7),
    }


def test_a_follower_who_wants_to_start_too_soon_is_told_apart():
    job = diary.booked_job(MONDAY, 2)
    make.other_trade(
        job, trade="Decorator", side="after", follows="mist", ready_on=date(2026, 3, 12)
    )
    assert follow(job, MONDAY)[0].is_too_soon
    assert words_on(date(2026, 3, 12), shown()) == [
        f"Decorator wants to start at job {job.number}, too soon: not before Mon 16 Mar"
    ]


def test_a_job_that_does_not_dry_has_no_follower():
    job = make.job("booked")
    diary.work_item(job, drying_days=0)
    assert follow(job, MONDAY) == ()


def test_jobs_that_wait_for_days_are_listed_until_they_have_them():
    job = diary.won_job()
    diary.booked_job()
    assert list(won_not_booked()) == [job]


def test_the_diary_asks_a_fixed_number_of_questions(django_assert_num_queries):
    crew, red = make.crew(), make.crew("Red crew")
    diary.booked_job(MONDAY, crew=crew)
    # Crews, bookings, halves, work, trades, time off, the firm.
    with django_assert_num_queries(7):
        shown(weeks=6)
    for week in range(3):
        start = date(2026, 3, 11 + 7 * week)
        make.other_trade(diary.booked_job(start, crew=red), ready_on=start)
    with django_assert_num_queries(7):
        shown(weeks=6)
