"""Materials: what a square metre takes, what is wasted, how it is sold, its water.

All figures are planning values of common practice with no published authority; the
bag's own instructions rule. Rates are for the stuff itself, before waste.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from firm.engine.trade.figures import Figure, Status

# What a need goes by: area times thickness, area times coats, area alone, the mix it
# is part of, or a cut list.
Basis = Literal["m2_mm", "m2_coat", "m2", "mix", "bead"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """A thing a merchant sells, and what its need goes by."""

    code: str
    name: str
    unit: str
    basis: Basis
    pack_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """Site-mixed mortar: parts by volume of cement, sand and lime."""

    code: str
    name: str
    parts: tuple[tuple[str, int], ...]


TABLE: tuple[tuple[str, str, str, Basis, str], ...] = (
    ("M-FIN", "finish plaster", "kg", "m2_mm", "25 kg bag"),
    ("M-BOND", "bonding undercoat", "kg", "m2_mm", "25 kg bag"),
    ("M-UND", "undercoat plaster", "kg", "m2_mm", "25 kg bag"),
    ("M-DAB", "board adhesive", "kg", "m2", "25 kg bag"),
    ("M-CEM", "cement", "kg", "mix", "25 kg bag"),
    ("M-SAND", "plastering sand, damp", "kg", "mix", "25 kg bag"),
    ("M-LIME", "hydrated lime", "kg", "mix", "25 kg bag"),
    ("M-PVA", "PVA, concentrate", "litres", "m2_coat", "5 L can"),
    ("M-SBR", "SBR bonding liquid", "litres", "m2_coat", "5 L can"),
    ("M-GRIT", "grit primer", "litres", "m2_coat", "10 L tub"),
    ("M-TAPE", "fibre scrim", "m", "m2", "90 m roll"),
    ("M-BOARD", "gypsum board 2400 × 1200", "m²", "m2", "board"),
    ("M-SCREW", "drywall screws", "pieces", "m2", "box of 500"),
    ("M-BEAD-THIN", "thin-coat bead 2–3 mm", "m", "bead", "length"),
    ("M-BEAD-ANGLE", "angle bead 10–13 mm", "m", "bead", "length"),
    ("M-BEAD-STOP", "stop bead", "m", "bead", "length"),
)

PRODUCTS = {
    product.code: product
    for product in (
        Product(code=code, name=name, unit=unit, basis=basis, pack_name=pack)
        for code, name, unit, basis, pack in TABLE
    )
}

MIXES = {
    mix.code: mix
    for mix in (
        Mix(
            code="MIX-1:3", name="cement:sand 1:3", parts=(("M-CEM", 1), ("M-SAND", 3))
        ),
        Mix(
            code="MIX-1:4", name="cement:sand 1:4", parts=(("M-CEM", 1), ("M-SAND", 4))
        ),
        Mix(
            code="MIX-1:5", name="cement:sand 1:5", parts=(("M-CEM", 1), ("M-SAND", 5))
        ),
        Mix(
            code="MIX-1:6", name="cement:sand 1:6", parts=(("M-CEM", 1), ("M-SAND", 6))
        ),
        Mix(
            code="MIX-1:1:6",
            name="cement:lime:sand 1:1:6",
            parts=(("M-CEM", 1), ("M-LIME", 1), ("M-SAND", 6)),
        ),
    )
}

SET = "planning set P1"
FROM_COATS = "worked from the coat's own weight"

# code, value, low, high, unit, conditions
RATES = (
    ("M-FIN.rate", "1.25", "1.136", "1.563", "kg per m² per mm", "8–11 m² a bag, 2 mm"),
    ("M-BOND.rate", "0.83", "0.758", "0.909", "kg per m² per mm", "2.5–3.0 m², 11 mm"),
    ("M-UND.rate", "0.76", "0.699", "0.826", "kg per m² per mm", "2.75–3.25 m², 11 mm"),
    ("M-DAB.rate", "3.75", "3", "5", "kg per m²", "uneven wall more"),
    ("M-PVA.rate", "0.024", "0.02", "0.04", "litres per m² a coat", "diluted 1:4"),
    ("M-SBR.rate", "0.18", "0.15", "0.25", "litres per m² a coat", "slurry bond"),
    ("M-SBR.cement", "0.36", "0.3", "0.5", "kg per m² a coat", "cement in the slurry"),
    ("M-GRIT.rate", "0.20", "0.143", "0.25", "litres per m² a coat", "4–7 m² a litre"),
    ("M-TAPE.rate", "1.30", "1.1", "1.6", "m per m² boarded", "internal angles apart"),
    ("M-BOARD.rate", "1", "1", "1", "m² per m²", "by area; a layout may differ"),
    ("M-SCREW.ceiling", "18.4", "13.5", "18.4", "pieces per m²", "joists at 400"),
    ("M-SCREW.wall", "9.4", "9.4", "12.5", "pieces per m²", "studs at 600"),
    ("M-CEM.loose", "1440", "1250", "1500", "kg per m³ loose", ""),
    ("M-SAND.loose", "1600", "1500", "1750", "kg per m³ loose", "damp, for plastering"),
    ("M-LIME.loose", "600", "500", "650", "kg per m³ loose", ""),
    ("MIX.shrink", "1.33", "1.25", "1.40", "m³ loose per m³", "wetted and compacted"),
    ("RBL.gypsum", "14", "10", "20", "kg per m² hacked off", "11 and 2 mm of gypsum"),
    ("RBL.cement", "31", "20", "42", "kg per m² hacked off", "15 mm of cement:sand"),
    ("RBL.sack", "20", "15", "25", "kg per sack", "gypsum kept by itself"),
)

WASTES = (
    ("M-FIN", "10"),
    ("M-BOND", "10"),
    ("M-UND", "10"),
    ("M-DAB", "10"),
    ("M-CEM", "10"),
    ("M-SAND", "10"),
    ("M-LIME", "10"),
    ("M-PVA", "0"),
    ("M-SBR", "0"),
    ("M-GRIT", "0"),
    ("M-TAPE", "5"),
    ("M-BOARD", "10"),
    ("M-SCREW", "10"),
)

PACKS = (
    ("M-FIN", "25"),
    ("M-BOND", "25"),
    ("M-UND", "25"),
    ("M-DAB", "25"),
    ("M-CEM", "25"),
    ("M-SAND", "25"),
    ("M-LIME", "25"),
    ("M-PVA", "5"),
    ("M-SBR", "5"),
    ("M-GRIT", "10"),
    ("M-TAPE", "90"),
    ("M-BOARD", "2.88"),
    ("M-SCREW", "500"),
)

# Litres for a 25 kg bag: least, most. The cement's water wets the whole 1:4 mortar.
WATERS = (
    ("M-FIN", "11", "13"),
    ("M-BOND", "15", "17"),
    ("M-UND", "13", "16"),
    ("M-DAB", "14", "15"),
    ("M-CEM", "5", "8"),
)


def _row(code: str, values: tuple[str, str, str], unit: str, conditions: str) -> Figure:
    worked = code in ("RBL.gypsum", "RBL.cement")
    status: Status = "arithmetic" if worked else "common practice"
    value, low, high = (Decimal(text) for text in values)
    return Figure(
        code=code,
        value=value,
        low=low,
        high=high,
        unit=unit,
        conditions=conditions,
        source=FROM_COATS if worked else SET,
        status=status,
    )


MATERIAL_FIGURES = (
    *(_row(c, (v, low, high), unit, when) for c, v, low, high, unit, when in RATES),
    *(_row(f"{c}.waste", (v, v, v), "% waste", "of the need") for c, v in WASTES),
    *(_row(f"{c}.pack", (v, v, v), f"{PRODUCTS[c].unit} a pack", "") for c, v in PACKS),
    *(
        _row(f"{c}.water", (low, low, high), "litres per 25 kg", "the bag rules")
        for c, low, high in WATERS
    ),
)
