"""What the office is told on the phone: which days, why, and why not sooner."""

from datetime import date

import pytest

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays, england_bank_holidays
from jobs.engine.slot_words import TradeBefore, Wish, suggest
from jobs.engine.slots import CrewDiary, Half, Off, Taken, run_of

DAYS = WorkingDays(england_bank_holidays([2027]))
# 2027-03-08 is a Monday.
MONDAY, TUESDAY = date(2027, 3, 8), date(2027, 3, 9)


def crew(
    number: int = 1, taken: dict[Half, Taken] | None = None, *off: Off
) -> CrewDiary:
    return CrewDiary(
        crew_id=number,
        name=f"Crew {'ABC'[number - 1]}",
        plasterers=1,
        labourers=1,
        taken=taken or {},
        off=off,
    )


def on_job(start: date, count: int, district: str = "ZX9") -> dict[Half, Taken]:
    given = Taken(job="job 12", district=district)
    return dict.fromkeys(run_of(Half(start, "am"), count, DAYS), given)


def wish(**facts) -> Wish:
    defaults = {
        "half_days": {1: 2, 2: 2, 3: 2},
        "district": "ZX4",
        "wanted_by_on": None,
        "from_on": MONDAY,
        "trades": (),
    }
    return Wish(**(defaults | facts))


def test_the_day_after_the_electrician_is_out_comes_first_and_says_so():
    electrician = TradeBefore(trade="Electrician", out_on=MONDAY, sure="promised")
    answer = suggest(wish(trades=[electrician]), [crew()], DAYS)
    best = answer.best[0]
    assert best.when == "Tue 9 Mar, all day"
    assert best.reasons == ("The electrician is out on Mon 8 Mar.",)
    assert answer.blocked_by == (
        (
            "Nothing before Tue 9 Mar morning: the electrician is out on Mon 8 Mar"
            " (promised)."
        ),
    )


def test_an_expected_day_is_not_sold_as_a_promise():
    electrician = TradeBefore(trade="Electrician", out_on=MONDAY, sure="expected")
    best = suggest(wish(trades=[electrician]), [crew()], DAYS).best[0]
    assert best.reasons == (
        (
            "The electrician expects to be out on Mon 8 Mar: ring before the day is"
            " promised."
        ),
    )


def test_the_later_of_two_trades_decides():
    trades = [
        TradeBefore(trade="Plumber", out_on=date(2027, 3, 10), sure="promised"),
        TradeBefore(trade="Electrician", out_on=MONDAY, sure="promised"),
    ]
    best = suggest(wish(trades=trades), [crew()], DAYS).best[0]
    assert best.when == "Thu 11 Mar, all day"


def test_a_day_nobody_has_named_is_never_guessed():
    unknown = TradeBefore(trade="Electrician", out_on=None, sure="unknown")
    with pytest.raises(Refused, match="Nobody has said when the electrician"):
        suggest(wish(trades=[unknown]), [crew()], DAYS)


def test_a_busy_crew_says_which_job_it_is_on():
    answer = suggest(wish(), [crew(1, on_job(MONDAY, 3))], DAYS)
    assert answer.best[0].when == "Wed 10 Mar, all day"
    assert answer.blocked_by == (
        "Crew A is on job 12: Mon 8 Mar morning to Tue 9 Mar morning.",
    )


def test_time_off_is_named_with_its_reason():
    off = Off(first_on=MONDAY, last_on=TUESDAY, reason="holiday")
    answer = suggest(wish(), [crew(1, None, off)], DAYS)
    assert answer.best[0].when == "Wed 10 Mar, all day"
    assert answer.blocked_by == ("Crew A is off (holiday): Mon 8 Mar to Tue 9 Mar.",)


def test_the_crew_already_near_by_wins_a_tie():
    near = crew(2, on_job(TUESDAY, 2, district="ZX4"))
    far = crew(1, on_job(TUESDAY, 2, district="ZX9"))
    best = suggest(wish(), [far, near], DAYS).best[0]
    assert best.slot.crew.name == "Crew B"
    assert best.reasons == ("Crew B is in ZX4 on Tue 9 Mar as well.",)


def test_in_time_for_the_customer_goes_before_late():
    early, late = suggest(wish(wanted_by_on=MONDAY), [crew()], DAYS).best
    assert early.reasons == ("Done by Mon 8 Mar; the customer wants it by Mon 8 Mar.",)
    assert late.reasons == (
        "1 working day later than the customer wants it (Mon 8 Mar).",
    )


def test_a_crew_with_no_gap_long_enough_is_named():
    longest = wish(half_days={1: 200})
    answer = suggest(longest, [crew(1, on_job(MONDAY, 140))], DAYS)
    # 90 days after Monday 8 March is Sunday 6 June.
    assert answer.blocked_by == (
        "Crew A has no run of 200 half-days before Sun 6 Jun.",
    )
    assert answer.best == ()


def test_no_crew_gives_no_slot_and_no_error():
    assert suggest(wish(), [], DAYS).best == ()


def test_a_half_day_is_named_by_its_part():
    short = wish(half_days={1: 1}, trades=[])
    best = suggest(short, [crew()], DAYS).best[0]
    assert best.when == "Mon 8 Mar morning"


def test_a_long_visit_waits_for_a_morning_and_says_why():
    # The look begins on a Sunday; Monday morning is taken and the afternoon is free,
    # but two half-days begin in the morning.
    sunday = wish(from_on=date(2027, 3, 7))
    answer = suggest(sunday, [crew(1, on_job(MONDAY, 1))], DAYS)
    assert answer.best[0].when == "Tue 9 Mar, all day"
    assert answer.blocked_by == ("Crew A is on job 12: Mon 8 Mar morning.",)


def test_places_without_a_postcode_are_not_called_near():
    near = crew(1, on_job(TUESDAY, 2, district=""))
    best = suggest(wish(district=""), [near], DAYS).best[0]
    assert best.reasons == ("Crew A has nothing else then.",)
