"""Lengths as a tape reads them, and how lengths and areas are written down.

Lengths are whole millimetres. Areas are square metres in Decimal, exact, and rounded
only in words meant for reading: nothing here gives a rounded figure to reckon with.
"""

import re
from decimal import ROUND_HALF_UP, Decimal

from firm.engine.refusal import Refused

MM2_IN_M2 = Decimal(1_000_000)
MM_IN_M = Decimal(1_000)
# A wall longer than this is a slip of the finger, not a wall.
LONGEST_MM = 100_000
NOT_A_LENGTH = "Give the length in whole millimetres, for example 2400."

_TAPE = re.compile(r"(\d+(?:\.\d+)?)\s*(mm|cm|m)?", re.IGNORECASE)
_UNITS_MM = {"mm": 1, "cm": 10, "m": 1000}


def metres(length_mm: Decimal | int) -> Decimal:
    """Return a length in metres, exact.

    >>> metres(3600)
    Decimal('3.6')
    """
    return Decimal(length_mm) / MM_IN_M


def area_m2(area_mm2: Decimal | int) -> Decimal:
    """Return an area in square metres, exact.

    >>> area_m2(3600 * 2400)
    Decimal('8.64')
    """
    return Decimal(area_mm2) / MM2_IN_M2


def figure(value: Decimal, *, most_places: int = 4) -> str:
    """Write a measure with at least two decimals and no more than it needs.

    >>> figure(Decimal("8.6")), figure(Decimal("0.3025")), figure(Decimal("1.660448"))
    ('8.60', '0.3025', '1.6604')
    """
    step = Decimal(1).scaleb(-most_places)
    whole, _, decimals = f"{value.quantize(step, rounding=ROUND_HALF_UP):f}".partition(
        "."
    )
    return f"{whole}.{decimals.rstrip('0').ljust(2, '0')}"


def in_metres(length_mm: Decimal | int) -> str:
    """Write a length in metres, as sums are written on a measuring sheet.

    >>> in_metres(2400), in_metres(2405)
    ('2.40', '2.405')
    """
    return figure(metres(length_mm), most_places=3)


def in_mm(length_mm: Decimal | int) -> str:
    """Write a length in whole millimetres.

    >>> in_mm(12400)
    '12,400 mm'
    """
    whole = Decimal(length_mm).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return f"{whole:,} mm"


def read_length_mm(text: str, *, field: str = "") -> int:
    """Read a length as people type it: millimetres unless a unit or a point says else.

    A bare figure with a decimal point is metres, because nobody types half a
    millimetre. A bare whole figure is millimetres.

    >>> read_length_mm("2400"), read_length_mm("2.4"), read_length_mm("240 cm")
    (2400, 2400, 2400)
    """
    found = _TAPE.fullmatch(text.strip().replace(",", ""))
    if not found:
        raise Refused(f"{NOT_A_LENGTH} “{text}” cannot be read.", field)
    digits, unit = found.groups()
    unit = unit.lower() if unit else ("m" if "." in digits else "mm")
    length_mm = Decimal(digits) * _UNITS_MM[unit]
    if length_mm != length_mm.to_integral_value():
        raise Refused(f"{NOT_A_LENGTH} “{text}” is finer than a tape reads.", field)
    return int(length_mm)


def check_length(length_mm: int, *, what: str, field: str = "") -> None:
    """Refuse a length that no tape could have given.

    >>> check_length(2400, what="wall A")
    """
    if length_mm <= 0:
        raise Refused(
            f"{what} is {length_mm} mm, and a length is more than nothing. "
            f"{NOT_A_LENGTH}",
            field,
        )
    if length_mm > LONGEST_MM:
        raise Refused(
            f"{what} is {in_mm(length_mm)}, over 100 m. Check the figure on the sheet.",
            field,
        )
