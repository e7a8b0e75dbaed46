"""Where a job fits: lengths worked by hand, runs read off a calendar."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays, england_bank_holidays
from jobs.engine.slots import (
    CrewDiary,
    Half,
    Labour,
    Off,
    Slot,
    Taken,
    days_late,
    free_slots,
    half_days_needed,
    may_start_at,
    run_of,
)

DAYS = WorkingDays(england_bank_holidays([2026, 2027]))


def labour(plasterer: str, labourer: str) -> Labour:
    # Day of 7.5 h, clearing down 0.25 h and 0.50 h a day: common practice.
    return Labour(
        plasterer_hours=Decimal(plasterer),
        labourer_hours=Decimal(labourer),
        day_hours=Decimal("7.5"),
        clear_plasterer_hours=Decimal("0.25"),
        clear_labourer_hours=Decimal("0.50"),
    )


def crew(
    taken: list[Half] | None = None,
    off: tuple[Off, ...] = (),
    name: str = "Crew A",
) -> CrewDiary:
    given_away = {half: Taken(job="Job 7", district="ZX4") for half in taken or []}
    return CrewDiary(
        crew_id=1, name=name, plasterers=1, labourers=1, taken=given_away, off=off
    )


def starts(slots: tuple[Slot, ...]) -> list[tuple[str, str]]:
    return [(slot.start.on.isoformat(), slot.start.half) for slot in slots]


@pytest.mark.parametrize(
    ("plasterer", "labourer", "expected"),
    [
        # 3.5 + 0.25 = 3.75 h, exactly a half-day of 3.75 h.
        ("3.50", "1.75", 1),
        # 3.51 + 0.25 = 3.76 h: a second half-day.
        ("3.51", "1.75", 2),
        # 7.25 + 0.25 = 7.5 h, exactly the two halves of one day.
        ("7.25", "3.63", 2),
        # 7.26 + 0.25 = 7.51 > 7.5; three halves: 7.26 + 2 x 0.25 = 7.76 <= 11.25.
        ("7.26", "3.63", 3),
        # The labourer decides: 3 x 0.5 + 18 = 19.5 > 18.75 (5); 6 halves 22.5.
        ("4.00", "18.00", 6),
    ],
)
def test_the_busier_trade_decides_the_length(plasterer, labourer, expected):
    assert (
        half_days_needed(labour(plasterer, labourer), plasterers=1, labourers=1)
        == expected
    )


def test_two_plasterers_halve_the_plastering_and_not_the_labouring():
    # One: 14.5 + 2 x 0.25 = 15 h = 4 halves. Two: 15 / 2 = 7.5 h = 2 halves by the
    # plasterers, yet the labourer has 7.2 + 0.5 = 7.7 > 7.5, so 3 halves.
    job = labour("14.50", "7.20")
    assert half_days_needed(job, plasterers=1, labourers=1) == 4
    assert half_days_needed(job, plasterers=2, labourers=1) == 3


def test_a_crew_without_a_labourer_carries_the_bags_itself():
    # 5 + 0.25 + 2 + 0.5 = 7.75 h > 7.5; three halves: 7 + 2 x 0.75 = 8.5 <= 11.25.
    assert half_days_needed(labour("5", "2"), plasterers=1, labourers=0) == 3


def test_more_than_sixty_days_is_refused_in_words():
    with pytest.raises(Refused, match="more than 60 days"):
        half_days_needed(labour("900", "0"), plasterers=1, labourers=1)


def test_a_day_without_hours_is_refused():
    nothing = Labour(
        plasterer_hours=Decimal(1),
        labourer_hours=Decimal(0),
        day_hours=Decimal(0),
        clear_plasterer_hours=Decimal(0),
        clear_labourer_hours=Decimal(0),
    )
    with pytest.raises(Refused, match="working hours"):
        half_days_needed(nothing, plasterers=1, labourers=1)


def test_a_crew_of_nobody_is_refused():
    with pytest.raises(Refused, match="at least one plasterer"):
        half_days_needed(labour("1", "1"), plasterers=0, labourers=1)


def test_a_visit_steps_over_the_easter_weekend():
    # GOV.UK bank holidays: Good Friday 26 March 2027, Easter Monday 29 March 2027.
    run = run_of(Half(date(2027, 3, 25), "am"), 4, DAYS)
    assert run == (
        Half(date(2027, 3, 25), "am"),
        Half(date(2027, 3, 25), "pm"),
        Half(date(2027, 3, 30), "am"),
        Half(date(2027, 3, 30), "pm"),
    )


def test_a_longer_visit_starts_in_the_morning_and_a_half_day_at_either():
    assert may_start_at(Half(date(2027, 3, 8), "pm"), 1)
    assert not may_start_at(Half(date(2027, 3, 8), "pm"), 2)


def test_a_free_afternoon_takes_a_half_day_and_not_a_whole_one():
    monday = date(2027, 3, 8)
    busy = crew([Half(monday, "am")])
    look = {"from_half": Half(monday, "am"), "until_on": date(2027, 3, 12), "most": 1}
    assert starts(free_slots(busy, count=1, days=DAYS, **look)) == [
        ("2027-03-08", "pm")
    ]
    assert starts(free_slots(busy, count=2, days=DAYS, **look)) == [
        ("2027-03-09", "am")
    ]


def test_time_off_breaks_a_run_where_a_weekend_does_not():
    friday = Half(date(2027, 3, 5), "am")
    look = {"from_half": friday, "until_on": date(2027, 3, 31), "days": DAYS, "most": 1}
    assert starts(free_slots(crew(), count=4, **look)) == [("2027-03-05", "am")]
    away = Off(first_on=date(2027, 3, 8), last_on=date(2027, 3, 9), reason="holiday")
    assert starts(free_slots(crew(off=(away,)), count=4, **look)) == [
        ("2027-03-10", "am")
    ]


def test_nothing_is_offered_past_the_end_of_the_look():
    monday = date(2027, 3, 8)
    busy = crew([Half(monday, "am"), Half(monday, "pm")])
    slots = free_slots(
        busy, count=1, from_half=Half(monday, "am"), until_on=monday, days=DAYS, most=3
    )
    assert slots == ()


def test_a_look_from_a_bank_holiday_begins_at_the_next_worked_morning():
    # GOV.UK: Monday 3 May 2027 is the early May bank holiday.
    slots = free_slots(
        crew(),
        count=1,
        from_half=Half(date(2027, 5, 1), "pm"),
        until_on=date(2027, 5, 7),
        days=DAYS,
        most=1,
    )
    assert starts(slots) == [("2027-05-04", "am")]


def test_lateness_counts_working_days_alone():
    # Wanted by Thursday 25 March; done on Wednesday 31 March: Tuesday and Wednesday
    # count, Good Friday, the weekend and Easter Monday do not.
    slot = Slot(crew=crew(), halves=(Half(date(2027, 3, 31), "am"),))
    assert days_late(slot, date(2027, 3, 25), DAYS) == 2
    assert days_late(slot, date(2027, 3, 31), DAYS) == 0
    assert days_late(slot, None, DAYS) == 0


halves = st.builds(
    lambda n, part: Half(date(2027, 3, 1) + timedelta(days=n), part),
    st.integers(0, 40),
    st.sampled_from(["am", "pm"]),
)


@given(st.lists(halves, max_size=40), st.integers(1, 8))
def test_no_slot_ever_takes_a_half_day_that_is_given_away(taken, count):
    busy = crew(taken)
    slots = free_slots(
        busy,
        count=count,
        from_half=Half(date(2027, 3, 1), "am"),
        until_on=date(2027, 5, 1),
        days=DAYS,
        most=4,
    )
    assert slots
    for slot in slots:
        assert len(slot.halves) == count
        assert not set(slot.halves) & set(taken)
        assert all(DAYS.is_working(half.on) for half in slot.halves)
        assert list(slot.halves) == sorted(slot.halves)
