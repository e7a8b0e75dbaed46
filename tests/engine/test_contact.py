import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from jobs.engine import contact


# Ofcom sets aside 07700 900000-900999 and 01632 960000-960999 for stories; from memory.
@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("07700 900123", "+447700900123"),
        ("07700-900-123", "+447700900123"),
        ("+44 (0)7700 900123", "+447700900123"),
        ("0044 7700 900123", "+447700900123"),
        ("(01632) 960100", "+441632960100"),
        ("０７７００ ９００１２３", "+447700900123"),
    ],
)
def test_a_number_is_kept_the_same_however_it_was_typed(typed, kept):
    assert contact.phone_number(typed) == kept


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "hello",
        "07700 90012",
        "07700 9001234",
        "999",
        "+353 1 234 5678",
        "00000 000000",
        "01632 960100 / 07700 900123",
        "01632 960100 ext 4",
        "+7700900123",
    ],
)
def test_what_is_no_uk_number_is_refused_with_what_was_typed(typed):
    with pytest.raises(Refused, match="is not a UK phone number") as refusal:
        contact.phone_number(typed)
    assert f"“{typed}”" in str(refusal.value)


# The six shapes with the examples that BS 7666 prints for them; from memory.
@pytest.mark.parametrize(
    ("typed", "kept", "district"),
    [
        ("M1 1AA", "M1 1AA", "M1"),
        ("m601nw", "M60 1NW", "M60"),
        ("CR2  6XH", "CR2 6XH", "CR2"),
        ("dn55 1pt", "DN55 1PT", "DN55"),
        ("W1A1HQ", "W1A 1HQ", "W1A"),
        (" ec1a 1bb ", "EC1A 1BB", "EC1A"),
    ],
)
def test_a_postcode_gets_capitals_and_its_one_space(typed, kept, district):
    assert contact.postcode(typed) == kept
    assert contact.district(typed) == district


@pytest.mark.parametrize(
    "typed", ["", "AB1", "1AB 2CD", "AB1 CD2", "ABC1 2DE", "AB1-2CD"]
)
def test_what_is_no_postcode_is_refused(typed):
    with pytest.raises(Refused, match="is not a UK postcode"):
        contact.postcode(typed)
    assert contact.district(typed) == ""


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("Sia\u0302n Reed", "Siân Reed"),
        ("  Rosa \t Reed ", "Rosa Reed"),
        ("Re\u200bed", "Reed"),
        ("Sia\u200b\u0302n", "Siân"),
        ("\u202eReed\u202c", "Reed"),
        ("Re\u200ded", "Reed"),
        ("O'Neil-Łukasz", "O'Neil-Łukasz"),
        ("نور", "نور"),
        ("👩\u200d🔧 Ltd", "👩\u200d🔧 Ltd"),
        ("Rosa\nReed", "Rosa Reed"),
    ],
)
def test_a_name_loses_what_cannot_be_seen_and_nothing_else(typed, kept):
    assert contact.line(typed) == kept


@pytest.mark.parametrize(
    "typed", ["Rosa\x00Reed", "Rosa\x07", "\ud800Reed", "Re\x9ded"]
)
def test_control_characters_are_refused(typed):
    with pytest.raises(Refused, match="cannot be seen"):
        contact.line(typed)


def test_an_address_keeps_its_lines():
    typed = "14 Larch Row \r\nSandford\r\n\r\n"
    assert contact.lines(typed) == "14 Larch Row\nSandford"


def test_a_long_paste_is_quoted_short():
    with pytest.raises(Refused) as refusal:
        contact.phone_number("0" * 5000)
    assert len(str(refusal.value)) < 120


@given(st.text())
def test_cleaning_twice_changes_nothing_more(typed):
    try:
        once = contact.lines(typed)
    except Refused:
        return
    assert contact.lines(once) == once


@given(st.text(max_size=30))
def test_any_typing_gets_a_number_or_a_sentence(typed):
    try:
        kept = contact.phone_number(typed)
    except Refused:
        return
    assert kept.startswith("+44")
    assert contact.phone_number(kept) == kept
