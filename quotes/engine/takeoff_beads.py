"""Beads: from arrises to stock lengths by the planning rule of the trade.

Beads are fixed in the longest possible lengths, so an arris up to 3.0 m is one piece.
Longer ones take 3.0 m pieces and a remainder. The pieces go into 3.0 m bars, longest
first, each into the first bar with room; a bar holding 2.4 m or less is bought as
2.4 m. Common practice; a search may find a cheaper list, never one with joints.
"""

from firm.engine.refusal import Refused
from quotes.engine.takeoff_values import Bar, BeadNeed

LONG_MM = 3000
SHORT_MM = 2400
TALLEST_ARRIS_MM = 30_000


def cut_beads(needs: tuple[BeadNeed, ...]) -> tuple[Bar, ...]:
    """Return the bars to buy, product by product, and what is cut from each.

    >>> bars = cut_beads((BeadNeed(product="M-BEAD-THIN", arrises_mm=(4000, 1000)),))
    >>> [(bar.stock_mm, bar.cuts_mm) for bar in bars]
    [(3000, (3000,)), (2400, (1000, 1000))]
    """
    arrises: dict[str, list[int]] = {}
    for place, need in enumerate(needs):
        _check(need, f"beads[{place}].arrises_mm")
        arrises.setdefault(need.product, []).extend(need.arrises_mm)
    return tuple(
        _bar(product, cuts)
        for product in sorted(arrises)
        for cuts in _packed(_pieces(arrises[product]))
    )


def _check(need: BeadNeed, path: str) -> None:
    for arris_mm in need.arrises_mm:
        if not 0 < arris_mm <= TALLEST_ARRIS_MM:
            raise Refused(
                f"Give each arris in whole millimetres up to {TALLEST_ARRIS_MM}; "
                f"{arris_mm} is not.",
                field=path,
            )


def _pieces(arrises_mm: list[int]) -> list[int]:
    whole = sum(arris // LONG_MM for arris in arrises_mm)
    rest = [arris % LONG_MM for arris in arrises_mm if arris % LONG_MM]
    return [LONG_MM] * whole + sorted(rest, reverse=True)


def _packed(pieces_mm: list[int]) -> list[list[int]]:
    bars: list[list[int]] = []
    for piece in pieces_mm:
        roomy = (bar for bar in bars if sum(bar) + piece <= LONG_MM)
        bar = next(roomy, None)
        if bar is None:
            bars.append([piece])
        else:
            bar.append(piece)
    return bars


def _bar(product: str, cuts_mm: list[int]) -> Bar:
    stock_mm = SHORT_MM if sum(cuts_mm) <= SHORT_MM else LONG_MM
    return Bar(
        product=product,
        stock_mm=stock_mm,
        cuts_mm=tuple(cuts_mm),
        offcut_mm=stock_mm - sum(cuts_mm),
    )
