"""Lengths as read and typed, and how measures are written."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.lengths import check_length, figure, in_metres, read_length_mm
from firm.engine.refusal import Refused


@pytest.mark.parametrize(
    ("typed", "length_mm"),
    [
        ("2400", 2400),
        ("2,400", 2400),
        (" 2400 mm ", 2400),
        ("2.4", 2400),
        ("2.405 m", 2405),
        ("240cm", 2400),
        ("2 M", 2000),
    ],
)
def test_lengths_are_read_as_people_type_them(typed, length_mm):
    assert read_length_mm(typed) == length_mm


@pytest.mark.parametrize("typed", ["", "two", "-3", "2.4005", "2400 ft", "1e3"])
def test_what_is_no_length_is_refused_with_an_example(typed):
    with pytest.raises(Refused, match="for example 2400") as refusal:
        read_length_mm(typed, field="width")
    assert refusal.value.field == "width"


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("8.64", "8.64"),
        ("8.6", "8.60"),
        ("0.3025", "0.3025"),
        ("1.66045", "1.6605"),
        ("15", "15.00"),
    ],
)
def test_measures_show_two_to_four_decimals_half_up(value, words):
    assert figure(Decimal(value)) == words


@pytest.mark.parametrize("length_mm", [0, -1, 100_001])
def test_impossible_lengths_are_refused(length_mm):
    check_length(100_000, what="Wall A")
    with pytest.raises(Refused, match="Wall A"):
        check_length(length_mm, what="Wall A")


@given(st.integers(1, 100_000))
def test_a_length_written_in_metres_is_read_back(length_mm):
    assert read_length_mm(in_metres(length_mm)) == length_mm
