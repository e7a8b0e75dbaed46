from datetime import UTC, date, datetime, time
from decimal import Decimal

import pytest

from firm.templatetags import figures

# What stands between a figure and its unit, so that no line breaks there.
TIED = "\u00a0"


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (Decimal("1234.5"), "£1,234.50"),
        (Decimal(0), "£0.00"),
        (12, "£12.00"),
        (Decimal("-0.5"), "−£0.50"),
        (Decimal("-0.001"), "£0.00"),
        (Decimal("0.005"), "£0.01"),
        (Decimal(1_000_000), "£1,000,000.00"),
    ],
)
def test_pounds_are_written_with_pence_and_commas(value, written):
    assert figures.pounds(value) == written


def test_square_metres_keep_two_places_and_their_unit():
    assert figures.m2(Decimal("34.575")) == f"34.58{TIED}m²"
    assert figures.m2(Decimal(1200)) == f"1,200.00{TIED}m²"


def test_lengths_are_written_as_a_tape_or_in_metres():
    assert figures.mm(2400) == f"2400{TIED}mm"
    assert figures.metres(2400) == f"2.40{TIED}m"
    assert figures.metres(4) == f"0.00{TIED}m"


@pytest.mark.parametrize(
    ("value", "written"),
    [("12.500", "12.5"), ("1200", "1,200"), ("100", "100"), ("0.00", "0")],
)
def test_an_amount_drops_only_noughts_behind_the_point(value, written):
    assert figures.amount(Decimal(value)) == written


def test_packs_are_counted_in_words_people_use():
    assert figures.packs(1, "bag") == f"1{TIED}bag"
    assert figures.packs(0, "bag") == f"0{TIED}bags"
    assert figures.packs(12, "box,boxes") == f"12{TIED}boxes"


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ("6.5", f"6{TIED}h{TIED}30{TIED}min"),
        ("2", f"2{TIED}h"),
        ("0.25", f"15{TIED}min"),
        ("0", f"0{TIED}min"),
        # 1.999 h is 119.94 minutes, which is two hours and not "1 h 60 min".
        ("1.999", f"2{TIED}h"),
    ],
)
def test_hours_are_written_in_hours_and_minutes(value, written):
    assert figures.hours(Decimal(value)) == written


def test_days_are_written_without_a_leading_nought():
    assert figures.day(date(2026, 3, 9)) == "Mon 9 Mar 2026"
    assert figures.short_day(date(2026, 3, 9)) == "Mon 9 Mar"


def test_an_instant_is_read_off_the_clock_in_london():
    # gov.uk, "When do the clocks change?": summer time from 01:00 UTC on 29 March 2026.
    before = datetime(2026, 3, 28, 7, 30, tzinfo=UTC)
    after = datetime(2026, 3, 29, 7, 30, tzinfo=UTC)
    assert figures.moment(before) == "Sat 28 Mar 2026, 7.30 am"
    assert figures.moment(after) == "Sun 29 Mar 2026, 8.30 am"


def test_a_late_instant_belongs_to_the_next_day_in_summer():
    assert figures.day(datetime(2026, 6, 30, 23, 30, tzinfo=UTC)) == "Wed 1 Jul 2026"


@pytest.mark.parametrize(
    ("at", "written"),
    [
        (time(0, 0), "12 am"),
        (time(7, 30), "7.30 am"),
        (time(12, 0), "12 pm"),
        (time(13, 5), "1.05 pm"),
    ],
)
def test_the_clock_is_written_as_people_say_it(at, written):
    assert figures.clock(at) == written


# Numbers that Ofcom keeps for drama: 01632 960000-960999 and 07700 900000-900999.
@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("07700900123", "07700 900123"),
        ("+44 7700 900123", "07700 900123"),
        ("01632960001", "01632 960001"),
        ("ask at the yard", "ask at the yard"),
        ("01632960001 after six", "01632960001 after six"),
        ("", "–"),
    ],
)
def test_a_phone_number_is_grouped_as_people_write_it(typed, written):
    assert figures.phone(typed) == written


def test_a_link_that_rings_carries_the_country():
    assert figures.dial("07700 900123") == "+447700900123"
    assert figures.dial("the yard, 01632 960001") == "+441632960001"


def test_words_without_a_number_ring_nobody():
    assert figures.dial("ask at the yard") == ""


@pytest.mark.parametrize("missing", [None, ""])
@pytest.mark.parametrize(
    "write",
    [
        figures.pounds,
        figures.m2,
        figures.mm,
        figures.metres,
        figures.amount,
        figures.percent,
        figures.hours,
        figures.day,
        figures.short_day,
        figures.clock,
        figures.moment,
        figures.phone,
    ],
)
def test_a_missing_figure_is_written_as_a_dash(write, missing):
    assert write(missing) == "–"
