"""Work a job out whole: what the quote says, what it costs, what acceptance hands down.

The answer is a snapshot of plain values, with every decimal as text, so that it can be
kept, hashed and read again years later without asking any other table.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from firm.engine.refusal import Refused
from firm.models import Firm
from firm.queries.firm import the_firm
from jobs.models import Job
from quotes.engine.pricing import Priced
from quotes.engine.pricing_values import VatKind, VatSum
from quotes.engine.specification_values import ShownCaution
from quotes.engine.takeoff_values import Material, TakenOff
from quotes.queries.priced import hours_on, priced_job
from quotes.queries.specified import SpecifiedJob, SurfaceFacts, specified_job
from quotes.queries.taken_off import taken_off_job

Snapshot = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A worked-out job: the snapshot and its three sums."""

    snapshot: Snapshot
    net_gbp: Decimal
    vat_gbp: Decimal
    gross_gbp: Decimal


def worked_out(job: Job, *, today: date, vat_kind: VatKind) -> Offer:
    """Measure, specify, take off and price a job; refused while something stops it."""
    firm = the_firm()
    specified = specified_job(job.pk)
    if specified.stops:
        raise Refused("This cannot be quoted yet. " + " ".join(specified.stops))
    taken = taken_off_job(job.pk, specified)
    priced = priced_job(
        specified,
        taken,
        on=today,
        vat_kind=vat_kind,
        is_vat_registered=firm.is_vat_registered,
    )
    items = [_item(facts, taken) for facts in specified.surfaces]
    snapshot = {
        **_parties(firm, job),
        "rooms": list(_rooms(priced, items)),
        "cautions": [_caution(caution) for caution in specified.cautions],
        "vat": [_vat(group) for group in priced.vat],
        "net_gbp": str(priced.net_gbp),
        "vat_gbp": str(priced.vat_gbp),
        "gross_gbp": str(priced.gross_gbp),
        "is_vat_registered": firm.is_vat_registered,
        "drying_days": max(facts.specified.drying_days for facts in specified.surfaces),
        "inside": _inside(specified, taken, priced),
        "hand_down": {
            "items": items,
            "needs": [_need(material) for material in taken.materials],
        },
    }
    return Offer(
        snapshot=snapshot,
        net_gbp=priced.net_gbp,
        vat_gbp=priced.vat_gbp,
        gross_gbp=priced.gross_gbp,
    )


def _parties(firm: Firm, job: Job) -> Snapshot:
    customer, site = job.customer, job.site
    return {
        "firm": {
            "name": firm.name,
            "address": firm.address,
            "postcode": firm.postcode,
            "phone": firm.phone,
            "email": firm.email,
            "vat_number": firm.vat_number if firm.is_vat_registered else "",
            "payment_days": firm.payment_days,
        },
        "customer": {
            "name": customer.name,
            "address": customer.address or site.address,
            "postcode": customer.postcode or site.postcode,
            "is_consumer": customer.is_consumer,
        },
        "site": {"address": site.address, "postcode": site.postcode},
        "job": {"number": job.number, "what": job.what},
    }


def _item(facts: SurfaceFacts, taken: TakenOff) -> Snapshot:
    plasterer_h, labourer_h = hours_on(facts, taken)
    return {
        "name": facts.name,
        "room": facts.room,
        "what": f"{_place(facts)}, {_background(facts)}",
        "place": _place(facts),
        "background": _background(facts),
        "layers": [layer.words for layer in facts.specified.layers],
        "why": [layer.why for layer in facts.specified.layers],
        "area_m2": str(facts.area_m2),
        "suction": facts.specified.suction,
        "plasterer_hours": str(plasterer_h),
        "labourer_hours": str(labourer_h),
        "drying_days": facts.specified.drying_days,
        "is_ceiling": facts.kind == "ceiling",
        "drawing": facts.drawing,
        "drawing_words": facts.drawing_words,
    }


def _place(facts: SurfaceFacts) -> str:
    names = {"ceiling": "Ceiling", "chase": "Chases"}
    return names.get(facts.kind, f"Wall {facts.place}")


def _background(facts: SurfaceFacts) -> str:
    return facts.specified.background.partition(" ")[2]


def _rooms(priced: Priced, items: list[Snapshot]) -> Iterator[Snapshot]:
    for line in priced.lines:
        yield {
            "name": line.room,
            "what": line.what,
            "area_m2": str(line.quantity),
            "net_gbp": str(line.net_gbp),
            "groups": list(_alike([i for i in items if i["room"] == line.room])),
        }


def _alike(items: list[Snapshot]) -> Iterator[Snapshot]:
    """Gather surfaces that get the same, so that it is read once and not per wall."""
    for key in dict.fromkeys(_kind_of(item) for item in items):
        same = [item for item in items if _kind_of(item) == key]
        places = [item["place"] for item in same]
        yield {
            "what": f"{together(places)}, {same[0]['background']}",
            "layers": same[0]["layers"],
            "area_m2": str(sum((Decimal(i["area_m2"]) for i in same), Decimal())),
            "drawings": [
                {"svg": item["drawing"], "words": item["drawing_words"]}
                for item in same
                if item["drawing"]
            ],
        }


def _kind_of(item: Snapshot) -> tuple[str, ...]:
    # A ceiling has a line of its own even where it gets what the walls get.
    return (item["background"], str(item["is_ceiling"]), *item["layers"])


def together(places: list[str]) -> str:
    """Name places as people do.

    >>> together(["Wall A"]), together(["Wall A", "Wall B", "Wall C"])
    ('Wall A', 'Walls A, B and C')
    """
    letters = [place.removeprefix("Wall ") for place in places]
    if len(places) == 1 or letters == places:
        return " and ".join(places)
    return f"Walls {', '.join(letters[:-1])} and {letters[-1]}"


def _caution(caution: ShownCaution) -> Snapshot:
    return {
        "code": caution.code,
        "words": caution.words,
        "authority": caution.authority,
    }


def _vat(group: VatSum) -> Snapshot:
    return {
        "rate_pct": str(group.rate_pct),
        "net_gbp": str(group.net_gbp),
        "vat_gbp": str(group.vat_gbp),
    }


def _need(material: Material) -> Snapshot:
    return {
        "item_code": material.code,
        "item": material.name,
        "quantity": str(material.with_waste),
        "unit": material.unit,
        "pack": material.pack_name,
        "packs": material.packs,
    }


def _inside(specified: SpecifiedJob, taken: TakenOff, priced: Priced) -> Snapshot:
    """Return what the firm reads and the customer does not."""
    band = priced.hours_band
    return {
        "days": taken.days,
        "gang": taken.gang,
        "plasterer_hours": str(taken.plasterer_h),
        "labourer_hours": str(taken.labourer_h),
        "hours_band": [str(band.low), str(band.likely), str(band.high)],
        "cost_gbp": str(priced.cost_gbp),
        "labour_gbp": str(priced.labour_gbp),
        "materials_gbp": str(priced.materials_gbp),
        "overhead_gbp": str(priced.overhead_gbp),
        "margin_gbp": str(priced.margin_gbp),
        "is_minimum_applied": priced.is_minimum_applied,
        "reasons": list(priced.reasons),
        "rubble_sacks": taken.rubble_sacks,
        "water_litres": [str(taken.water_low_litres), str(taken.water_high_litres)],
        "working": {
            "measure": list(specified.measured.working),
            "takeoff": list(taken.working),
            "price": list(priced.working),
        },
    }
