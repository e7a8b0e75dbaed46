"""How figures and dates are written, everywhere: £1,234.50, 34.58 m², Mon 9 Mar 2026.

Nothing is worked out here: a figure comes in as it was stored, and goes out as
people write it. A figure that is missing is written as a dash.
"""

from datetime import date, datetime, time
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import phonenumbers
from django import template
from django.utils import timezone

register = template.Library()

NONE = "–"
# A template hands over an empty text for a name that it does not know.
MISSING = (None, "")
UNITED_KINGDOM = 44
PENNY = Decimal("0.01")
# A space that no line breaks at, so a figure keeps its unit.
TIED = "\u00a0"


@register.filter
def pounds(value: Decimal | int | None) -> str:
    """
    >>> pounds(Decimal("1234.5")), pounds(Decimal("-12")), pounds(None)
    ('£1,234.50', '−£12.00', '–')
    """
    if value in MISSING:
        return NONE
    penny_exact = Decimal(value).quantize(PENNY, ROUND_HALF_UP)
    sign = "−" if penny_exact < 0 else ""
    return f"{sign}£{abs(penny_exact):,.2f}"


@register.filter
def m2(value: Decimal | int | None) -> str:
    """
    >>> m2(Decimal("34.575")) == "34.58" + TIED + "m²"
    True
    """
    if value in MISSING:
        return NONE
    return f"{Decimal(value).quantize(PENNY, ROUND_HALF_UP):,.2f}{TIED}m²"


@register.filter
def mm(value: int | None) -> str:
    """
    >>> mm(2400) == "2400" + TIED + "mm"
    True
    """
    return NONE if value in MISSING else f"{value}{TIED}mm"


@register.filter
def metres(value: int | None) -> str:
    """Write whole millimetres as metres.

    >>> metres(2400) == "2.40" + TIED + "m"
    True
    """
    if value in MISSING:
        return NONE
    length_m = (Decimal(value) / 1000).quantize(PENNY, ROUND_HALF_UP)
    return f"{length_m:,}{TIED}m"


@register.filter
def amount(value: Decimal | int | None) -> str:
    """Write a number without the noughts that say nothing.

    >>> amount(Decimal("12.500")), amount(Decimal("1200")), amount(Decimal("0.0"))
    ('12.5', '1,200', '0')
    """
    if value in MISSING:
        return NONE
    plain = f"{Decimal(value):,f}"
    return plain.rstrip("0").rstrip(".") if "." in plain else plain


@register.filter
def percent(value: Decimal | int | None) -> str:
    """
    >>> percent(Decimal("20.00")), percent(Decimal("17.5"))
    ('20%', '17.5%')
    """
    return NONE if value in MISSING else f"{amount(value)}%"


@register.filter
def packs(value: Decimal | int | None, one: str) -> str:
    """Count things in words; the plural of an odd word follows a comma.

    >>> packs(1, "bag") == "1" + TIED + "bag"
    True
    >>> packs(2, "box,boxes") == "2" + TIED + "boxes"
    True
    """
    if value in MISSING:
        return NONE
    single, _, several = one.partition(",")
    word = single if value == 1 else several or f"{single}s"
    return f"{amount(value)}{TIED}{word}"


@register.filter
def hours(value: Decimal | int | None) -> str:
    """
    >>> hours(Decimal("6.5")) == TIED.join(["6", "h", "30", "min"])
    True
    """
    if value in MISSING:
        return NONE
    minutes = int((Decimal(value) * 60).quantize(Decimal(1), ROUND_HALF_UP))
    whole, rest = divmod(minutes, 60)
    parts = [f"{whole}{TIED}h"] if whole else []
    if rest or not whole:
        parts.append(f"{rest}{TIED}min")
    return TIED.join(parts)


@register.filter
def day(value: date | datetime | str | None) -> str:
    """Write a day; a snapshot keeps its days as text.

    >>> day(date(2026, 3, 9)), day("2026-03-09")
    ('Mon 9 Mar 2026', 'Mon 9 Mar 2026')
    """
    if isinstance(value, str) and value:
        value = date.fromisoformat(value)
    return NONE if value in MISSING else f"{_here(value):%a %-d %b %Y}"


@register.filter
def short_day(value: date | datetime | None) -> str:
    """
    >>> short_day(date(2026, 3, 9))
    'Mon 9 Mar'
    """
    return NONE if value in MISSING else f"{_here(value):%a %-d %b}"


@register.filter
def clock(value: datetime | time | None) -> str:
    """
    >>> clock(time(7, 30)), clock(time(13, 0)), clock(time(12, 5)), clock(time(0, 0))
    ('7.30 am', '1 pm', '12.05 pm', '12 am')
    """
    if value in MISSING:
        return NONE
    at = _here(value) if isinstance(value, datetime) else value
    hour = f"{at:%-I}" if at.minute == 0 else f"{at:%-I.%M}"
    return f"{hour} {'am' if at.hour < 12 else 'pm'}"


@register.filter
def moment(value: datetime | None) -> str:
    """Write an instant by the clock on the firm's wall."""
    return NONE if value in MISSING else f"{day(value)}, {clock(value)}"


@register.filter
def phone(value: str | None) -> str:
    """Write a number in the groups that people say it in; leave words as they are.

    >>> phone("07700900123"), phone("+441632960001"), phone("ask at the yard")
    ('07700 900123', '01632 960001', 'ask at the yard')
    """
    if not value:
        return NONE
    number = _first_number(value)
    if number is None or any(sign.isalpha() for sign in value):
        return value
    ours = number.country_code == UNITED_KINGDOM
    style = phonenumbers.PhoneNumberFormat
    return phonenumbers.format_number(
        number, style.NATIONAL if ours else style.INTERNATIONAL
    )


@register.filter
def dial(value: str | None) -> str:
    """Write the number in a text for the address of a link that rings it.

    >>> dial("07700 900123"), dial("the yard: 01632 960001"), dial("ask at the yard")
    ('+447700900123', '+441632960001', '')
    """
    number = _first_number(value or "")
    if number is None:
        return ""
    return phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164)


def _here(value: Any) -> Any:
    is_instant = isinstance(value, datetime) and timezone.is_aware(value)
    return timezone.localtime(value) if is_instant else value


def _first_number(value: str) -> phonenumbers.PhoneNumber | None:
    found = phonenumbers.PhoneNumberMatcher(
        value, "GB", leniency=phonenumbers.Leniency.POSSIBLE
    )
    return next((match.number for match in found), None)
