"""When the next trade may follow: worked dates over weekends and Easter 2026.

Bank holidays 2026 in England: 3 and 6 April, 4 and 25 May (GOV.UK, from memory).
Drying figures are common practice of the trade; the dates were counted on a calendar.
"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from firm.engine.trade.drying import FOLLOWERS
from firm.engine.working_days import WorkingDays
from jobs.engine.drying import Drying, Lag, dry, drying_days

SPRING = WorkingDays(
    frozenset({date(2026, 4, 3), date(2026, 4, 6), date(2026, 5, 4), date(2026, 5, 25)})
)


def first_start(question):
    return dry(question, calendar=SPRING).starts[0].start_on


# Case, question, first day by clear days, by elapsed days.
CASES = {
    # Thu 5 March + 3 + 1 = Mon 9; elapsed Sun 8 -> Mon 9
    "D1 skim on board": (
        {"finish_on": date(2026, 3, 5), "followers": ("mist_coat",)},
        date(2026, 3, 9),
        date(2026, 3, 9),
    ),
    # Fri 27 March + 13 + 1 = Fri 10 April; elapsed Thu 9
    "D2 11 + 2 on block": (
        {
            "finish_on": date(2026, 3, 27),
            "coating": "undercoat_and_finish",
            "thickness_mm": 13,
            "followers": ("mist_coat",),
        },
        date(2026, 4, 10),
        date(2026, 4, 9),
    ),
    # 13 x 1.5 = 19.5 -> 20: Fri 17 April; elapsed Thu 16
    "D2w in winter": (
        {
            "finish_on": date(2026, 3, 27),
            "coating": "undercoat_and_finish",
            "thickness_mm": 13,
            "air": "winter_unheated",
            "followers": ("mist_coat",),
        },
        date(2026, 4, 17),
        date(2026, 4, 16),
    ),
    # Wed 11 March + 17 + 1 = Sun 29 -> Mon 30; elapsed Sat 28 -> Mon 30
    "D3 15 + 2 sand and cement": (
        {
            "finish_on": date(2026, 3, 11),
            "coating": "cement_and_finish",
            "thickness_mm": 17,
            "followers": ("mist_coat",),
        },
        date(2026, 3, 30),
        date(2026, 3, 30),
    ),
    # Fri 20 March + 28 + 1 = Sat 18 April -> Mon 20; elapsed Fri 17
    "D4 tiles after four weeks": (
        {"finish_on": date(2026, 3, 20), "followers": ("tiler",)},
        date(2026, 4, 20),
        date(2026, 4, 17),
    ),
    # Thu 2 April + 2 + 1 = Sun 5, Mon 6 is Easter Monday -> Tue 7; elapsed Sat 4
    "D5 two days over Easter": (
        {"finish_on": date(2026, 4, 2), "lags": (Lag(name="joiner", days=2),)},
        date(2026, 4, 7),
        date(2026, 4, 7),
    ),
    # Fri 13 March + 5 + 1 = Thu 19; elapsed Wed 18
    "D6 skim over old plaster": (
        {
            "finish_on": date(2026, 3, 13),
            "coating": "reskim",
            "followers": ("mist_coat",),
        },
        date(2026, 3, 19),
        date(2026, 3, 18),
    ),
}


@pytest.mark.parametrize(("facts", "clear", "elapsed"), CASES.values(), ids=CASES)
def test_follower_starts_on_the_worked_date(facts, clear, elapsed):
    assert first_start(Drying(**facts, convention="clear")) == clear
    assert first_start(Drying(**facts, convention="elapsed")) == elapsed


@pytest.mark.parametrize("finish_on", [date(2026, 3, 3), date(2026, 3, 4)])
def test_d9_a_slip_of_a_day_is_swallowed_by_the_weekend(finish_on):
    # Tue 3 + 3 + 1 = Sat 7 -> Mon 9; a day later Wed 4 + 3 + 1 = Sun 8 -> Mon 9
    question = Drying(finish_on=finish_on, followers=("mist_coat",))
    assert first_start(question) == date(2026, 3, 9)


def test_england_keeps_easter_without_being_told():
    question = Drying(finish_on=date(2026, 4, 2), lags=(Lag(name="joiner", days=2),))
    assert dry(question).starts[0].start_on == date(2026, 4, 7)


@pytest.mark.parametrize(
    ("coating", "thickness_mm", "air", "days"),
    [
        # 3 x 0.7 = 2.1 -> 3; 5 x 0.7 = 3.5 -> 4; 13 x 0.7 = 9.1 -> 10
        ("skim_on_board", 0, "heated_ventilated", 3),
        ("reskim", 0, "heated_ventilated", 4),
        ("undercoat_and_finish", 13, "heated_ventilated", 10),
        # 2 mm at one a day x 0.7 = 1.4 -> 2, and never under 2; 1 x 0.7 -> 1 -> 2
        ("undercoat_and_finish", 2, "heated_ventilated", 2),
        ("undercoat_and_finish", 1, "heated_ventilated", 2),
        # 3 x 1.5 = 4.5 -> 5; 22 x 1.5 = 33
        ("skim_on_board", 0, "winter_unheated", 5),
        ("cement_and_finish", 22, "winter_unheated", 33),
        ("cement_and_finish", 22, "normal", 22),
    ],
)
def test_air_lengthens_or_shortens_drying(coating, thickness_mm, air, days):
    assert drying_days(coating=coating, thickness_mm=thickness_mm, air=air) == days


def test_second_coat_waits_a_day_for_the_mist_coat():
    # Thu 5 March: mist coat Mon 9, next coat Tue 10
    question = Drying(finish_on=date(2026, 3, 5), followers=("next_coat_of_paint",))
    assert first_start(question) == date(2026, 3, 10)


def test_joiner_waits_longer_on_solid_walls():
    # Mon 2 March: board 3 clear -> Fri 6; solid 7 clear -> Tue 10
    followers = ("joiner_second_fix",)
    board = Drying(finish_on=date(2026, 3, 2), followers=followers)
    solid = Drying(finish_on=date(2026, 3, 2), coating="reskim", followers=followers)
    assert first_start(board) == date(2026, 3, 6)
    assert first_start(solid) == date(2026, 3, 10)


def test_nobody_named_means_every_trade_known():
    answer = dry(Drying(finish_on=date(2026, 3, 2)), calendar=SPRING)
    assert [start.code for start in answer.starts] == [row.code for row in FOLLOWERS]
    firm = {start.code for start in answer.starts if start.is_firm}
    assert firm == {"T18", "T19", "T21"}


def test_each_start_says_its_rule():
    question = Drying(finish_on=date(2026, 3, 5), followers=("mist_coat",))
    answer = dry(question, calendar=SPRING)
    assert answer.starts[0].rule == (
        "Mist coat: 3 clear days after Thu 5 Mar 2026, "
        "first working day Mon 9 Mar 2026."
    )
    assert answer.wet_until_on == date(2026, 3, 8)


@pytest.mark.parametrize("thickness_mm", [0, -3, 101])
def test_thickness_that_decides_must_be_given(thickness_mm):
    facts = {"finish_on": date(2026, 3, 5), "coating": "undercoat_and_finish"}
    assert dry(Drying(**facts, thickness_mm=13)).drying_days == 13
    with pytest.raises(Refused, match="whole thickness") as refusal:
        dry(Drying(**facts, thickness_mm=thickness_mm))
    assert refusal.value.field == "thickness_mm"


def test_an_agreed_wait_cannot_be_negative():
    lags = (Lag(name="joiner", days=-1),)
    with pytest.raises(Refused, match="joiner waits -1 days"):
        dry(Drying(finish_on=date(2026, 3, 5), lags=lags))


@given(
    st.dates(date(2026, 1, 1), date(2027, 12, 31)),
    st.integers(0, 90),
    st.integers(0, 30),
)
def test_a_longer_wait_never_starts_sooner(finish_on, days, more):
    lags = (Lag(name="short", days=days), Lag(name="long", days=days + more))
    short, long = dry(Drying(finish_on=finish_on, lags=lags), calendar=SPRING).starts
    assert short.start_on <= long.start_on
    assert SPRING.is_working(short.start_on)


@given(st.dates(date(2026, 1, 1), date(2027, 12, 31)), st.integers(0, 90))
def test_clear_days_never_start_before_elapsed(finish_on, days):
    lags = (Lag(name="next", days=days),)
    clear = first_start(Drying(finish_on=finish_on, lags=lags))
    elapsed = first_start(Drying(finish_on=finish_on, lags=lags, convention="elapsed"))
    assert elapsed <= clear


@pytest.mark.parametrize("year", [1999, 2101, 9999])
def test_a_year_out_of_all_reason_is_refused(year):
    assert dry(Drying(finish_on=date(2026, 3, 5))).starts
    with pytest.raises(Refused, match=str(year)):
        dry(Drying(finish_on=date(year, 12, 31)))
