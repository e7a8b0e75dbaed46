from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays
from jobs.engine.visit_times import MOST_A_DAY, StandingVisit, visit_times

TIMES = (time(8), time(9, 30), time(11), time(13))
NOON = time(12)
TUESDAY = date(2026, 11, 24)
WEDNESDAY, THURSDAY = date(2026, 11, 25), date(2026, 11, 26)
DAYS = WorkingDays(frozenset())


def at(on, hour, district="AB1", name="Mrs Reed"):
    return StandingVisit(on=on, at=hour, district=district, name=name)


def offers(standing=(), district="AB1", today=TUESDAY, days=DAYS, times=TIMES):
    return visit_times(
        district=district,
        standing=standing,
        times=times,
        days=days,
        today=today,
        gone=NOON,
    )


def test_beside_a_visit_in_the_same_district_comes_first():
    found = offers([at(THURSDAY, time(8))])
    assert (found[0].on, found[0].at) == (THURSDAY, time(9, 30))
    assert found[0].reason == "after Mrs Reed's visit in the same district"


def test_the_time_before_a_visit_says_so():
    found = offers([at(THURSDAY, time(9, 30))])
    assert (found[0].on, found[0].at) == (THURSDAY, time(8))
    assert found[0].reason == "before Mrs Reed's visit in the same district"


def test_a_name_in_s_takes_no_second_s():
    found = offers([at(THURSDAY, time(8), name="Kiln and Sons")])
    assert found[0].reason == "after Kiln and Sons' visit in the same district"


def test_a_later_time_on_a_day_nearby_beats_an_earlier_day_elsewhere():
    elsewhere = at(WEDNESDAY, time(8), "ZZ9", "Mr Ash")
    found = offers([elsewhere, at(THURSDAY, time(8))])
    assert [(offer.on, offer.at) for offer in found[:3]] == [
        (THURSDAY, time(9, 30)),
        (THURSDAY, time(11)),
        (WEDNESDAY, time(9, 30)),
    ]
    assert found[1].reason == "the same day as Mrs Reed's visit in the same district"
    assert found[2].reason == "after Mr Ash's visit in ZZ9"


def test_an_empty_diary_offers_the_earliest_days():
    found = offers()
    # Tuesday noon: 13:00 is left of today, then two times a day, six in all.
    assert [(offer.on.day, offer.at) for offer in found] == [
        (24, time(13)),
        (25, time(8)),
        (25, time(9, 30)),
        (26, time(8)),
        (26, time(9, 30)),
        (27, time(8)),
    ]
    assert {offer.reason for offer in found} == {"a clear day"}


def test_without_a_postcode_no_place_is_called_near():
    found = offers([at(THURSDAY, time(8), "")], district="")
    assert (found[0].on, found[0].at) == (THURSDAY, time(9, 30))
    assert found[0].reason == "after Mrs Reed's visit in another place"


def test_weekends_and_holidays_are_not_offered():
    christmas_eve = date(2026, 12, 24)
    holidays = WorkingDays(frozenset({date(2026, 12, 25), date(2026, 12, 28)}))
    found = offers([at(christmas_eve, time(13))], today=christmas_eve, days=holidays)
    # Friday 25 and Monday 28 December 2026 are holidays, 26 and 27 the weekend.
    assert found[0].on == date(2026, 12, 29)


def test_the_look_ahead_ends_after_ten_working_days():
    # From Tuesday 24 November the tenth working day is Monday 7 December. Every
    # time before it is taken, so its own are all that is left.
    days = [24, 25, 26, 27, 30]
    full = [at(date(2026, 11, day), hour, "ZZ9") for day in days for hour in TIMES]
    full += [
        at(date(2026, 12, day), hour, "ZZ9") for day in range(1, 5) for hour in TIMES
    ]
    found = offers(full)
    assert {offer.on for offer in found} == {date(2026, 12, 7)}


def test_a_full_diary_offers_nothing():
    days = [date(2026, 11, day) for day in range(24, 31)]
    days += [date(2026, 12, day) for day in range(1, 8)]
    assert offers([at(day, hour) for day in days for hour in TIMES]) == []


def test_no_visit_times_at_all_is_refused():
    with pytest.raises(Refused, match="no times"):
        offers(times=())


slots = st.builds(
    at,
    st.dates(date(2026, 11, 20), date(2026, 12, 10)),
    st.sampled_from(TIMES),
    st.sampled_from(["AB1", "ZZ9", ""]),
)


@given(st.lists(slots, max_size=40), st.sampled_from(["AB1", "ZZ9", ""]))
def test_what_is_offered_is_free_worked_and_still_to_come(standing, district):
    found = offers(standing, district)
    taken = {(visit.on, visit.at) for visit in standing}
    for offer in found:
        assert (offer.on, offer.at) not in taken
        assert DAYS.is_working(offer.on)
        assert (offer.on, offer.at) > (TUESDAY, NOON)
    days = [offer.on for offer in found]
    assert all(days.count(day) <= MOST_A_DAY for day in days)


@given(st.lists(slots, max_size=20), st.randoms())
def test_the_order_of_the_diary_rows_does_not_matter(standing, shuffler):
    by_slot = list({(visit.on, visit.at): visit for visit in standing}.values())
    mixed = by_slot.copy()
    shuffler.shuffle(mixed)
    chosen = [(offer.on, offer.at) for offer in offers(by_slot)]
    assert [(offer.on, offer.at) for offer in offers(mixed)] == chosen
