import pytest
from django import forms

from quotes.forms.length import LengthField, read_typed_length_mm


class Tape(forms.Form):
    wall = LengthField(least_bare_mm=100)
    left = LengthField(required=False, may_be_nought=True)


@pytest.mark.parametrize(
    ("typed", "length_mm"),
    [
        ("3600", 3600),
        ("3,600", 3600),
        ("3.6", 3600),
        ("3.60 m", 3600),
        ("3.60m", 3600),
        ("360 cm", 3600),
        ("3600 mm", 3600),
        # An inch is 25.4 mm exactly (Weights and Measures Act 1985, schedule 1:
        # a yard is 0.9144 metre). 8'6" = 102 in × 25.4 = 2590.8.
        ("8'6\"", 2591),
        ("8' 6\"", 2591),
        ("8’6”", 2591),
        ("8'6", 2591),
        ("8ft 6in", 2591),
        # 11'10" = 142 × 25.4 = 3606.8; 9' = 108 × 25.4 = 2743.2; 34.5 × 25.4 = 876.3.
        ("11'10\"", 3607),
        ("9'", 2743),
        ("9 feet", 2743),
        ('34 1/2"', 876),
        ("34.5 in", 876),
    ],
)
def test_a_length_is_understood_as_it_is_typed(typed, length_mm):
    assert read_typed_length_mm(typed) == length_mm


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("4", "4 reads as 4 mm. Type 4 m or 4000 if it is metres"),
        ("0", "Give a length of more than nothing."),
        ("3,6", "has a comma where a point belongs"),
        ("about 3", "cannot be read"),
        ("-3600", "cannot be read"),
        ("3.6005", "finer than a tape reads"),
        ("200 m", "200,000 mm is over 100 m"),
        ("", "Fill this in."),
        ("'", "cannot be read"),
        ("3.6.0", "cannot be read"),
    ],
)
def test_a_length_that_cannot_be_is_asked_again(typed, sentence):
    form = Tape({"wall": typed})
    assert not form.is_valid()
    assert sentence in " ".join(form.errors["wall"])


def test_a_short_wall_may_be_meant_when_it_says_so():
    form = Tape({"wall": "75 mm", "left": "0"})
    assert form.is_valid(), form.errors
    assert form.cleaned_data == {"wall": 75, "left": 0}


def test_a_length_left_out_is_none_and_not_nought():
    form = Tape({"wall": "3600"})
    assert form.is_valid()
    assert form.cleaned_data["left"] is None
