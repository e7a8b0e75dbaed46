"""Turn what people type into a phone number, a postcode or a name the firm can keep.

Text comes in as typed or pasted and goes out in one shape, so that the same person is
found again however the number was written. Numbers and postcodes are judged by their
shape alone: whether a line rings or a house stands is not known here.
"""

import re
import unicodedata

import phonenumbers

from firm.engine.refusal import Refused

NOT_A_PHONE = "“{}” is not a UK phone number. Give one like 01632 960100."
NOT_A_POSTCODE = "“{}” is not a UK postcode. Give one like AB1 2CD."
NOT_TYPED = (
    "“{}” holds a character that cannot be seen. Type it afresh, without pasting."
)
UK = 44
PHONE_CHARACTERS = re.compile(r"[\d\s().+\-‐-―/]+")
# Ofcom, National Telephone Numbering Plan: 01 and 02 places, 03 and 08 services,
# 05 over the internet, 07 mobiles, 09 premium; ten figures after the 0, or nine for a
# few old places and freephone numbers, never for a mobile. From memory.
UK_NUMBER = re.compile(r"7\d{9}|[1358]\d{8,9}|[29]\d{9}")
# BS 7666: A9, A99, A9A, AA9, AA99 or AA9A, then a figure and two letters. From memory.
UK_POSTCODE = re.compile(r"([A-Z]{1,2}[0-9][A-Z0-9]?)([0-9][A-Z]{2})")
SHORTEST_POSTCODE = 5

# Marks that turn the reading direction, or take no room: two names that look alike
# would be two people. Joiners are kept between letters that need them.
TURNING = frozenset(
    "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f"
)
WITHOUT_WIDTH = frozenset("\u200b\u2060\ufeff\u00ad")
JOINERS = frozenset("\u200c\u200d")


def phone_number(typed: str) -> str:
    """Return a UK number as it is dialled from anywhere.

    >>> phone_number("07700 900123")
    '+447700900123'
    """
    words = unicodedata.normalize("NFKC", typed).strip()
    refusal = Refused(NOT_A_PHONE.format(shown(typed)))
    if not PHONE_CHARACTERS.fullmatch(words):
        raise refusal
    try:
        number = phonenumbers.parse(words, "GB")
    except phonenumbers.NumberParseException:
        raise refusal from None
    national = str(number.national_number)
    if number.country_code != UK or not UK_NUMBER.fullmatch(national):
        raise refusal
    return f"+{UK}{national}"


def postcode(typed: str) -> str:
    """Return a postcode in capitals with its one space.

    >>> postcode(" ab12cd ")
    'AB1 2CD'
    """
    match = UK_POSTCODE.fullmatch(postcode_key(typed))
    if match is None:
        raise Refused(NOT_A_POSTCODE.format(shown(typed)))
    return f"{match[1]} {match[2]}"


def postcode_key(typed: str) -> str:
    """Return a postcode, or its beginning, without spaces and in capitals.

    >>> postcode_key("ab1 2")
    'AB12'
    """
    return "".join(unicodedata.normalize("NFKC", typed).split()).upper()


def district(typed: str) -> str:
    """Return the outward half of a postcode, or nothing when it is not one.

    >>> district("AB12 3CD")
    'AB12'
    """
    match = UK_POSTCODE.fullmatch(postcode_key(typed))
    return match[1] if match else ""


def line(typed: str) -> str:
    """Return one line of text, its accents composed and its spaces single.

    >>> line(" Siân   Reed ")
    'Siân Reed'
    """
    return " ".join(lines(typed.replace("\n", " ")).split())


def lines(typed: str) -> str:
    """Return text of several lines, without marks that cannot be seen.

    Control characters and broken halves of characters are refused: nobody typed
    them, and what stood there is not known.
    """
    # A tab was pasted from a table, and a line ends the same way on every machine.
    words = typed.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " ")
    if any(_is_control(mark) for mark in words):
        raise Refused(NOT_TYPED.format(shown(typed)))
    kept = "".join(mark for at, mark in enumerate(words) if _is_kept(words, at, mark))
    rows = [row.rstrip() for row in unicodedata.normalize("NFC", kept).split("\n")]
    return "\n".join(rows).strip()


def shown(typed: str) -> str:
    """Return typed words as they may stand in a sentence: short and visible."""
    seen = "".join(mark if mark.isprintable() else " " for mark in typed)
    seen = " ".join(seen.split())
    return seen if len(seen) <= 40 else f"{seen[:39]}…"


def _is_control(mark: str) -> bool:
    return mark != "\n" and unicodedata.category(mark) in {"Cc", "Cs"}


def _is_kept(words: str, at: int, mark: str) -> bool:
    if mark in JOINERS:
        around = words[max(at - 1, 0) : at] + words[at + 1 : at + 2]
        return len(around) == 2 and not around.isascii()
    return mark not in TURNING and mark not in WITHOUT_WIDTH
