"""How sure a price is: a band of hours and cost from the range of each operation.

Not everything goes wrong on one job, and not everything goes well. So the separate
deviations are added as the root of the sum of their squares, each side for itself:
the usual rule for independent errors. A closed form; nothing is drawn at random.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from firm.engine.money import pounds
from quotes.engine.pricing_values import Band, Hours

REASONS_SHOWN = 3


def hours_band(hours: tuple[Hours, ...]) -> Band:
    """Return the low, likely and high hours of the whole job.

    >>> a = Hours(what="skim", hours=Decimal(10), low_hours=Decimal(7),
    ...           high_hours=Decimal(13), rate_gbp=Decimal(20))
    >>> b = Hours(what="beads", hours=Decimal(6), low_hours=Decimal(2),
    ...           high_hours=Decimal(10), rate_gbp=Decimal(20))
    >>> hours_band((a, b))
    Band(low=Decimal('11'), likely=Decimal('16'), high=Decimal('21'))
    """
    likely = sum((h.hours for h in hours), Decimal(0))
    return Band(
        low=likely - _spread(h.hours - h.low_hours for h in hours),
        likely=likely,
        high=likely + _spread(h.high_hours - h.hours for h in hours),
    )


def cost_band(hours: tuple[Hours, ...], materials_gbp: Decimal) -> Band:
    """Return the low, likely and high cost; the packs are as counted in all three."""
    likely = sum((h.hours * h.rate_gbp for h in hours), materials_gbp)
    down = _spread((h.hours - h.low_hours) * h.rate_gbp for h in hours)
    up = _spread((h.high_hours - h.hours) * h.rate_gbp for h in hours)
    return Band(
        low=pounds(likely - down), likely=pounds(likely), high=pounds(likely + up)
    )


def widest(hours: tuple[Hours, ...]) -> tuple[str, ...]:
    """Name the operations that make the band wide, the widest first."""
    by_width = sorted(hours, key=lambda h: (h.low_hours - h.high_hours, h.what))
    return tuple(
        f"{h.what} may take {_shown(h.low_hours)} to {_shown(h.high_hours)} h."
        for h in by_width[:REASONS_SHOWN]
        if h.high_hours > h.low_hours
    )


def _shown(hours: Decimal) -> str:
    return f"{hours.quantize(Decimal('0.1'), rounding=ROUND_HALF_UP)}"


def _spread(deviations: Iterable[Decimal]) -> Decimal:
    return sum((deviation**2 for deviation in deviations), Decimal(0)).sqrt()
