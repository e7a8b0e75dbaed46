"""From hours and packs to a price, by the firm's own rates."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from firm.engine.refusal import Refused
from firm.engine.trade.labour import OPERATIONS
from jobs.queries.merchant import pack_prices
from quotes.engine.pricing import Hours, Priced, Pricing, Purchase, WorkLine, price
from quotes.engine.pricing_values import VatKind
from quotes.engine.takeoff import TakenOff
from quotes.models import Rates
from quotes.queries.specified import SpecifiedJob, SurfaceFacts

NO_RATES = "The firm's rates are not written down yet. See Firm, What we charge."


def rates_or_none() -> Rates | None:
    return Rates.objects.filter(pk=1).first()


def the_rates() -> Rates:
    rates = rates_or_none()
    if rates is None:
        raise Refused(NO_RATES)
    return rates


def priced_job(
    specified: SpecifiedJob,
    taken: TakenOff,
    *,
    on: date,
    vat_kind: VatKind,
    is_vat_registered: bool,
) -> Priced:
    """Price a whole job, one line a room, from what it costs and the firm's margin."""
    rates = the_rates()
    return price(
        Pricing(
            way="cost",
            lines=tuple(_lines(specified, taken, rates, vat_kind)),
            on=on,
            hours=tuple(_hours(taken, rates)),
            purchases=tuple(_purchases(taken)),
            overhead_pct=rates.overhead_pct,
            margin_pct=rates.margin_pct,
            minimum_gbp=rates.minimum_charge_gbp,
            is_vat_registered=is_vat_registered,
        )
    )


def hours_on(facts: SurfaceFacts, taken: TakenOff) -> tuple[Decimal, Decimal]:
    """Return the plasterer's and the labourer's hours that one surface takes."""
    names = {facts.name, f"{facts.name} hollow parts"}
    own = [row for row in taken.labour if row.surface in names]
    plasterer_h = sum((row.plasterer_h for row in own), Decimal())
    return plasterer_h, sum((row.labourer_h for row in own), Decimal())


def _lines(
    specified: SpecifiedJob, taken: TakenOff, rates: Rates, vat_kind: VatKind
) -> Iterator[WorkLine]:
    for room in dict.fromkeys(facts.room for facts in specified.surfaces):
        mine = [facts for facts in specified.surfaces if facts.room == room]
        yield WorkLine(
            room=room,
            what=_what(mine),
            quantity=sum((facts.area_m2 for facts in mine), Decimal()),
            unit="m²",
            weight=sum((_weight(facts, taken, rates) for facts in mine), Decimal()),
            vat_kind=vat_kind,
        )


def _weight(facts: SurfaceFacts, taken: TakenOff, rates: Rates) -> Decimal:
    plasterer_h, labourer_h = hours_on(facts, taken)
    return plasterer_h * rates.plasterer_hour_gbp + labourer_h * rates.labourer_hour_gbp


def _what(surfaces: list[SurfaceFacts]) -> str:
    walls = sum(facts.kind == "wall" for facts in surfaces)
    parts = []
    if walls:
        parts.append("one wall" if walls == 1 else f"{walls} walls")
    if any(facts.kind == "ceiling" for facts in surfaces):
        parts.append("ceiling")
    if any(facts.kind == "chase" for facts in surfaces):
        parts.append("chases")
    return " and ".join((", ".join(parts[:-1]), parts[-1])) if parts[1:] else parts[0]


def _hours(taken: TakenOff, rates: Rates) -> Iterator[Hours]:
    """Add the hours up by operation, because its range is one unknown, not many."""
    for code in dict.fromkeys(row.operation for row in taken.labour):
        rows = [row for row in taken.labour if row.operation == code]
        for who, rate_gbp in (
            ("plasterer", rates.plasterer_hour_gbp),
            ("labourer", rates.labourer_hour_gbp),
        ):
            hours = sum((getattr(row, f"{who}_h") for row in rows), Decimal())
            both = sum((row.plasterer_h + row.labourer_h for row in rows), Decimal())
            if hours:
                low = sum((row.low_h for row in rows), Decimal()) * hours / both
                high = sum((row.high_h for row in rows), Decimal()) * hours / both
                yield Hours(
                    what=f"{OPERATIONS[code].name}, {who}",
                    hours=hours,
                    low_hours=min(low, hours),
                    high_hours=max(high, hours),
                    rate_gbp=rate_gbp,
                )


def _purchases(taken: TakenOff) -> Iterator[Purchase]:
    prices = pack_prices()
    for material in taken.materials:
        if material.code not in prices:
            raise Refused(
                f"No merchant in the book has a price for {material.name}"
                f" ({material.pack_name}). Set one under Firm, Merchants."
            )
        yield Purchase(
            item=material.name, packs=material.packs, pack_gbp=prices[material.code]
        )
