"""Price a job: from what it costs, or by the firm's own rates.

Hours, packs and rates come in; a net price by line, VAT by rate and a gross price go
out, each rounded once to the penny. Whether the firm may charge VAT, and which kind a
job is, is for the tax office or an adviser; this reckons with what it is told.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from firm.engine.money import pounds, share_out
from firm.engine.tax import vat_rate_pct
from quotes.engine.pricing_band import cost_band, hours_band, widest
from quotes.engine.pricing_check import check
from quotes.engine.pricing_values import (
    Band,
    Hours,
    Priced,
    PricedLine,
    Pricing,
    Purchase,
    VatSum,
    WorkLine,
)
from quotes.engine.pricing_working import price_sentences

__all__ = [
    "Band",
    "Hours",
    "Priced",
    "PricedLine",
    "Pricing",
    "Purchase",
    "VatSum",
    "WorkLine",
    "price",
]


def price(job: Pricing) -> Priced:
    """Work out what to charge, line by line, and how sure that is.

    From cost: labour and packs, overhead on top, then a margin that is a share of the
    *price* (20 % of the price is 25 % on the cost). By rates: each line is quantity
    times rate, and what is left after cost and overhead is the margin. A price under
    the firm's minimum charge becomes the minimum.

    >>> from datetime import date
    >>> line = WorkLine(room="Hall", what="skim", quantity=Decimal(20), unit="m²",
    ...                 rate_gbp=Decimal("14.20"))
    >>> hall = price(Pricing(way="rates", lines=(line,), on=date(2026, 11, 24)))
    >>> hall.net_gbp, hall.gross_gbp
    (Decimal('284.00'), Decimal('340.80'))
    """
    check(job)
    labour_gbp = pounds(_total(h.hours * h.rate_gbp for h in job.hours))
    materials_gbp = pounds(_total(p.packs * p.pack_gbp for p in job.purchases))
    cost_gbp = labour_gbp + materials_gbp
    overhead_gbp = pounds(cost_gbp * job.overhead_pct / 100)
    shares, is_minimum_applied = _line_prices(job, cost_gbp + overhead_gbp)
    lines = tuple(map(_priced, job.lines, shares))
    net_gbp = _total(shares)
    vat = tuple(_vat(job, lines))
    vat_gbp = _total(group.vat_gbp for group in vat)
    answer = Priced(
        labour_gbp=labour_gbp,
        materials_gbp=materials_gbp,
        cost_gbp=cost_gbp,
        overhead_gbp=overhead_gbp,
        margin_gbp=net_gbp - cost_gbp - overhead_gbp,
        is_minimum_applied=is_minimum_applied,
        lines=lines,
        net_gbp=net_gbp,
        vat=vat,
        vat_gbp=vat_gbp,
        gross_gbp=net_gbp + vat_gbp,
        hours_band=hours_band(job.hours),
        cost_band_gbp=cost_band(job.hours, materials_gbp),
        reasons=widest(job.hours),
        working=(),
    )
    return replace(answer, working=tuple(price_sentences(answer, job)))


def _line_prices(job: Pricing, outlay_gbp: Decimal) -> tuple[list[Decimal], bool]:
    if job.way == "rates":
        prices = [pounds(line.quantity * (line.rate_gbp or 0)) for line in job.lines]
    else:
        net_gbp = pounds(outlay_gbp * 100 / (100 - job.margin_pct))
        prices = share_out(net_gbp, _weights(job, []))
    if sum(prices) >= pounds(job.minimum_gbp):
        return prices, False
    return share_out(pounds(job.minimum_gbp), _weights(job, prices)), True


def _weights(job: Pricing, prices: list[Decimal]) -> list[Decimal]:
    # By price where there is one, else by weight, else all alike.
    weights = prices if any(prices) else [line.weight for line in job.lines]
    return weights if any(weights) else [Decimal(1) for _ in job.lines]


def _priced(line: WorkLine, net_gbp: Decimal) -> PricedLine:
    return PricedLine(
        room=line.room,
        what=line.what,
        quantity=line.quantity,
        unit=line.unit,
        net_gbp=net_gbp,
        vat_kind=line.vat_kind,
    )


def _vat(job: Pricing, lines: tuple[PricedLine, ...]) -> Iterator[VatSum]:
    if not job.is_vat_registered:
        return
    for kind in dict.fromkeys(line.vat_kind for line in lines):
        net_gbp = _total(line.net_gbp for line in lines if line.vat_kind == kind)
        rate_pct = vat_rate_pct(kind, job.on)
        yield VatSum(
            kind=kind,
            rate_pct=rate_pct,
            net_gbp=net_gbp,
            vat_gbp=pounds(net_gbp * rate_pct / 100),
        )


def _total(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal(0))
