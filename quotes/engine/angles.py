"""Sine and cosine of whole degrees in Decimal: exact at right angles, else 28 digits.

Binary fractions would put a wall of 1.00 m² a hair over 1.00 m², on the wrong side of
a rule that says "not exceeding".
"""

from decimal import Decimal, localcontext
from functools import cache

PI = Decimal("3.14159265358979323846264338327950288419716939937510")
_AT_RIGHT_ANGLES = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}
_SMALLEST_TERM = Decimal("1e-40")


def _series(radians: Decimal, term: Decimal, power: int) -> Decimal:
    total = term
    while abs(term) > _SMALLEST_TERM:
        power += 2
        term = -term * radians * radians / (power * (power - 1))
        total += term
    return total


@cache
def direction(degrees: int) -> tuple[Decimal, Decimal]:
    """Return cosine and sine of a heading.

    >>> direction(90), direction(-90)
    ((Decimal('0'), Decimal('1')), (Decimal('0'), Decimal('-1')))
    """
    heading = degrees % 360
    if heading in _AT_RIGHT_ANGLES:
        east, south = _AT_RIGHT_ANGLES[heading]
        return Decimal(east), Decimal(south)
    with localcontext(prec=45):
        radians = PI * heading / 180
        cosine = _series(radians, Decimal(1), 0)
        sine = _series(radians, radians, 1)
    return +cosine, +sine
