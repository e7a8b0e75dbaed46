"""Materials of a job: the exact need, the waste, and whole packs once per job."""

from collections.abc import Iterable, Iterator
from decimal import ROUND_CEILING, Decimal

from firm.engine.refusal import Refused
from firm.engine.trade.figures import Figures
from firm.engine.trade.materials import MIXES, PRODUCTS, WATERS, Mix, Product
from quotes.engine.takeoff_values import Bar, LayerNeed, Material, Surface, TakeOff

# A hair over a whole pack is that pack: 100 kg is four bags, never five.
GUARD = Decimal("1e-9")
MM_IN_M = 1000
BAG_KG = 25

Need = tuple[str, Decimal]


def whole_packs(quantity: Decimal, pack_size: Decimal) -> int:
    """Round up to whole packs, with a guard for a quantity that is exactly whole.

    >>> whole_packs(Decimal(100), Decimal(25)), whole_packs(Decimal(101), Decimal(25))
    (4, 5)
    """
    exact = quantity / pack_size - GUARD
    return max(0, int(exact.to_integral_value(rounding=ROUND_CEILING)))


def materials_for(
    job: TakeOff, bars: tuple[Bar, ...], *, figures: Figures
) -> tuple[Material, ...]:
    """Add up the layers of all surfaces and round up once per product.

    Rounding room by room would buy a bag for every odd corner.
    """
    needs: dict[str, Decimal] = {}
    for code, exact in _needs(job, figures):
        needs[code] = needs.get(code, Decimal(0)) + exact
    if "M-TAPE" in needs:
        needs["M-TAPE"] += job.internal_angles_m
    bought = (_packed(code, needs[code], figures) for code in sorted(needs))
    return (*bought, *_lengths(bars))


def water_litres(
    materials: Iterable[Material], figures: Figures
) -> tuple[Decimal, Decimal]:
    """Return the least and the most water for what is mixed, by what bags ask for."""
    wet = {code for code, _, _ in WATERS}
    bags = [(m.code, m.exact / BAG_KG) for m in materials if m.code in wet]
    return (
        sum((n * figures.low(f"{code}.water") for code, n in bags), Decimal(0)),
        sum((n * figures.high(f"{code}.water") for code, n in bags), Decimal(0)),
    )


def _needs(job: TakeOff, figures: Figures) -> Iterator[Need]:
    for s, surface in enumerate(job.surfaces):
        for n, layer in enumerate(surface.layers):
            path = f"surfaces[{s}].layers[{n}]"
            if layer.coats < 1:
                raise Refused("Give at least one coat.", field=f"{path}.coats")
            yield from _layer(layer, surface, figures, path)


def _layer(
    layer: LayerNeed, surface: Surface, figures: Figures, path: str
) -> Iterator[Need]:
    mix = MIXES.get(layer.product)
    if mix is not None:
        volume_m3 = _m2_mm(layer, surface, path) / MM_IN_M
        yield from _mixed(mix, volume_m3, figures)
        return
    product = PRODUCTS.get(layer.product)
    if product is None or product.basis in ("mix", "bead"):
        raise Refused(
            f"'{layer.product}' is no layer material. Pick one of "
            f"{', '.join(_layer_codes())}.",
            field=f"{path}.product",
        )
    amount = _amount(product, layer, surface, path)
    if product.code == "M-SCREW":
        row = "ceiling" if surface.kind == "ceiling" else "wall"
        yield product.code, amount * figures[f"M-SCREW.{row}"]
        return
    yield product.code, amount * figures[f"{product.code}.rate"]
    if product.code == "M-SBR":
        yield "M-CEM", amount * figures["M-SBR.cement"]


def _layer_codes() -> list[str]:
    sold = [p.code for p in PRODUCTS.values() if p.basis not in ("mix", "bead")]
    return sorted((*sold, *MIXES))


def _amount(product: Product, layer: LayerNeed, surface: Surface, path: str) -> Decimal:
    if product.basis == "m2_mm":
        return _m2_mm(layer, surface, path)
    if product.basis == "m2_coat":
        return surface.area_m2 * layer.coats
    return surface.area_m2


def _m2_mm(layer: LayerNeed, surface: Surface, path: str) -> Decimal:
    if layer.thickness_mm is None or layer.thickness_mm <= 0:
        raise Refused(
            f"Say how thick {layer.product} goes on, in millimetres.",
            field=f"{path}.thickness_mm",
        )
    return surface.area_m2 * layer.thickness_mm


def _mixed(mix: Mix, volume_m3: Decimal, figures: Figures) -> Iterator[Need]:
    # Parts are by loose volume; wetted and compacted, they shrink.
    loose_m3 = volume_m3 * figures["MIX.shrink"] / sum(n for _, n in mix.parts)
    for code, n in mix.parts:
        yield code, loose_m3 * n * figures[f"{code}.loose"]


def _packed(code: str, exact: Decimal, figures: Figures) -> Material:
    product = PRODUCTS[code]
    waste_pct = figures[f"{code}.waste"]
    pack_size = figures[f"{code}.pack"]
    if not pack_size:
        raise Refused("A pack holds more than nothing.", field=f"figures.{code}.pack")
    with_waste = exact * (100 + waste_pct) / 100
    return Material(
        code=code,
        name=product.name,
        unit=product.unit,
        exact=exact,
        waste_pct=waste_pct,
        with_waste=with_waste,
        pack_size=pack_size,
        pack_name=product.pack_name,
        packs=whole_packs(with_waste, pack_size),
    )


def _lengths(bars: tuple[Bar, ...]) -> Iterator[Material]:
    for code, stock_mm in sorted({(bar.product, bar.stock_mm) for bar in bars}):
        same = [b for b in bars if (b.product, b.stock_mm) == (code, stock_mm)]
        cut_mm = sum(sum(bar.cuts_mm) for bar in same)
        exact = Decimal(cut_mm) / MM_IN_M
        size_m = Decimal(stock_mm) / MM_IN_M
        yield Material(
            code=code,
            name=PRODUCTS[code].name,
            unit="m",
            exact=exact,
            waste_pct=Decimal(0),
            with_waste=exact,
            pack_size=size_m,
            pack_name=f"{size_m} m length",
            packs=len(same),
        )
