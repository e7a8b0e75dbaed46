"""Take off a job: what must be bought, how long it will take, what is carried out.

Measured surfaces come in with the layers and operations the specification chose.
Quantities go out unrounded, packs whole. Nothing is priced here, and boards are counted
by area: a board layout or a searched cutting list may do better.
"""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from firm.engine.refusal import Refused
from firm.engine.trade.figures import Figures, figures_with
from firm.engine.trade.labour import LABOUR_FIGURES
from firm.engine.trade.materials import MATERIAL_FIGURES
from quotes.engine.takeoff_beads import cut_beads
from quotes.engine.takeoff_labour import (
    clear_down,
    days_needed,
    labour_for,
    sum_h,
)
from quotes.engine.takeoff_materials import materials_for, water_litres, whole_packs
from quotes.engine.takeoff_values import (
    BeadNeed,
    Gang,
    Labour,
    LayerNeed,
    Material,
    OperationNeed,
    Surface,
    TakenOff,
    TakeOff,
)

__all__ = [
    "BeadNeed",
    "Gang",
    "LayerNeed",
    "OperationNeed",
    "Surface",
    "TakeOff",
    "TakenOff",
    "take_off",
]

HACKING = {"HKG": "RBL.gypsum", "HKC": "RBL.cement"}


def take_off(job: TakeOff) -> TakenOff:
    """Work out materials in whole packs, hours by operation, and days for the gang.

    Packs are rounded up once per material for the whole job, after waste.

    >>> wall = Surface(name="wall", kind="wall", area_m2=Decimal("40"),
    ...     layers=(LayerNeed(product="M-FIN", thickness_mm=Decimal(2)),),
    ...     operations=(OperationNeed(code="SKW"),))
    >>> done = take_off(TakeOff(surfaces=(wall,)))
    >>> done.materials[0].packs, done.days
    (5, 2)
    """
    _check(job)
    figures = figures_with((*MATERIAL_FIGURES, *LABOUR_FIGURES), job.figures)
    bars = cut_beads(job.beads)
    materials = materials_for(job, bars, figures=figures)
    work = labour_for(job, figures=figures)
    days = days_needed(work, job.gang, figures=figures)
    labour = (*work, clear_down(days, job.gang, figures))
    rubble_kg = _rubble_kg(labour, figures)
    water_low, water_high = water_litres(materials, figures)
    return TakenOff(
        materials=materials,
        bars=bars,
        labour=labour,
        plasterer_h=sum_h(labour, "plasterer_h"),
        labourer_h=sum_h(labour, "labourer_h"),
        low_h=sum_h(labour, "low_h"),
        high_h=sum_h(labour, "high_h"),
        gang=job.gang.name,
        days=days,
        rubble_kg=rubble_kg,
        rubble_sacks=whole_packs(rubble_kg, figures["RBL.sack"]),
        water_low_litres=water_low,
        water_high_litres=water_high,
        working=tuple(_working(materials, labour, days, job.gang, figures)),
    )


def _check(job: TakeOff) -> None:
    if not job.surfaces:
        raise Refused("There is no surface to take off. Measure one.", field="surfaces")
    for place, surface in enumerate(job.surfaces):
        sizes = (surface.area_m2, surface.length_m, Decimal(surface.height_mm))
        if min(sizes) < 0:
            raise Refused(
                f"'{surface.name}' has a size below nothing. Check the sheet.",
                field=f"surfaces[{place}]",
            )
    if job.rooms < 0 or job.internal_angles_m < 0:
        raise Refused("Rooms and internal angles cannot be fewer than none.")
    if job.gang.plasterers < 1 or job.gang.labourers < 0:
        raise Refused("A gang needs at least one plasterer.", field="gang.plasterers")


def _rubble_kg(labour: tuple[Labour, ...], figures: Figures) -> Decimal:
    hacked = [line for line in labour if line.operation in HACKING]
    return sum(
        (line.quantity * figures[HACKING[line.operation]] for line in hacked),
        Decimal(0),
    )


def _working(
    materials: tuple[Material, ...],
    labour: tuple[Labour, ...],
    days: int,
    gang: Gang,
    figures: Figures,
) -> Iterator[str]:
    yield from figures.overruled()
    yield from (_material_sentence(material) for material in materials)
    yield from (_labour_sentence(line) for line in labour)
    yield (
        f"Gang {gang.name}: plasterer {shown(sum_h(labour, 'plasterer_h'))} h, "
        f"labourer {shown(sum_h(labour, 'labourer_h'))} h with clearing down, at "
        f"{figures['DAY.hours']} h a day each = {days} day{'s'[: days - 1]}."
    )


def _material_sentence(m: Material) -> str:
    return (
        f"{m.name}: {shown(m.exact)} {m.unit} and {m.waste_pct} % waste = "
        f"{shown(m.with_waste)} {m.unit}, ÷ {m.pack_size} → {m.packs} × {m.pack_name}."
    )


def _labour_sentence(line: Labour) -> str:
    return (
        f"{line.surface}, {line.name}: {shown(line.quantity)} {line.unit} → plasterer "
        f"{shown(line.plasterer_h)} h, labourer {shown(line.labourer_h)} h "
        f"(usual {shown(line.low_h)}–{shown(line.high_h)} h together)."
    )


def shown(quantity: Decimal) -> str:
    """Write a quantity to two places, half up, as sentences show it."""
    return f"{quantity.quantize(Decimal('0.01'), rounding=ROUND_HALF_UP)}"
