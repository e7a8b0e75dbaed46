"""Pounds and pennies: the one place where money is rounded.

Amounts come in as Decimal, text or whole numbers and go out as Decimal pounds. A
binary fraction (Python's own float) is refused, because 118.505 is not 118.505 there.
Which sums are rounded, and how often, is decided where they are added up: this
module only says how.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from fractions import Fraction

from firm.engine.refusal import Refused

PENNY = Decimal("0.01")
NOT_MONEY = "Give the amount in pounds and pence, for example 1250.00."


def pounds(value: Decimal | str | int) -> Decimal:
    """Round to the penny: under half a penny down, half a penny and over up.

    That is the plain rule of the tax office for VAT (HMRC VATREC12030). Credits round
    the same way as charges, so that one cancels the other.

    >>> pounds("118.505")
    Decimal('118.51')
    """
    if isinstance(value, bool) or not isinstance(value, Decimal | str | int):
        raise Refused(NOT_MONEY)
    try:
        amount = Decimal(value)
        rounded = amount.quantize(PENNY, rounding=ROUND_HALF_UP)
    except InvalidOperation:
        raise Refused(NOT_MONEY) from None
    if not rounded.is_finite():
        raise Refused(NOT_MONEY)
    return rounded + 0


def share_out(total_gbp: Decimal, weights: Iterable[Decimal | int]) -> list[Decimal]:
    """Split a sum over lines by weight so that the shares add back to the penny.

    Every share is its exact part rounded down; the pennies left over go to the lines
    that lost most by that, the earlier line first when two lost the same.

    >>> share_out(Decimal("100.00"), [1, 1, 1])
    [Decimal('33.34'), Decimal('33.33'), Decimal('33.33')]
    """
    parts = [Fraction(weight) for weight in weights]
    if any(part < 0 for part in parts) or not sum(parts):
        raise Refused("There is nothing to share the sum over. Give at least one line.")
    if pounds(total_gbp) != total_gbp:
        raise Refused(f"Only whole pennies can be shared out, and {total_gbp} is not.")
    pennies = abs(int(total_gbp * 100))
    exact = [pennies * part / sum(parts) for part in parts]
    shares = [int(amount) for amount in exact]
    by_loss = sorted(range(len(parts)), key=lambda i: (shares[i] - exact[i], i))
    for line in by_loss[: pennies - sum(shares)]:
        shares[line] += 1
    sign = -1 if total_gbp < 0 else 1
    return [pounds(Decimal(sign * share) / 100) for share in shares]
