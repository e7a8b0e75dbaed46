"""What the take-off is asked and what it answers, as plain values.

Areas in m² and lengths in m are true surfaces (what is really plastered), unrounded.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

NOTHING = Decimal(0)
Circumstance = Literal["stairwell", "small_room", "curved", "arch"]
BeadProduct = Literal["M-BEAD-THIN", "M-BEAD-ANGLE", "M-BEAD-STOP"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerNeed:
    """One layer on a surface: a product or a site mix, how thick or how many coats."""

    product: str
    thickness_mm: Decimal | None = None
    coats: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class OperationNeed:
    """One thing to do on a surface; without a quantity, all of the surface."""

    code: str
    quantity: Decimal | None = None
    coats: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A measured surface, what goes on it and what is done to it."""

    name: str
    kind: Literal["wall", "ceiling", "reveal"]
    area_m2: Decimal
    length_m: Decimal = NOTHING
    height_mm: int = 0
    circumstances: tuple[Circumstance, ...] = ()
    layers: tuple[LayerNeed, ...] = ()
    operations: tuple[OperationNeed, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BeadNeed:
    """Arrises to be beaded, each as long as the tape reads."""

    product: BeadProduct
    arrises_mm: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gang:
    """Who is meant to do it. Without a labourer the plasterer serves himself."""

    name: str = "1 + 1"
    plasterers: int = 1
    labourers: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOff:
    """The question: one job's surfaces, beads and gang.

    `figures` overrules rows of the trade's data by code, such as
    {"SKW.plasterer": "0.20"}.
    """

    surfaces: tuple[Surface, ...]
    beads: tuple[BeadNeed, ...] = ()
    internal_angles_m: Decimal = NOTHING
    rooms: int = 1
    gang: Gang = Gang()
    figures: Mapping[str, Decimal] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """What must be bought of one thing, in whole packs."""

    code: str
    name: str
    unit: str
    exact: Decimal
    waste_pct: Decimal
    with_waste: Decimal
    pack_size: Decimal
    pack_name: str
    packs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One stock length of bead and what is cut from it."""

    product: str
    stock_mm: int
    cuts_mm: tuple[int, ...]
    offcut_mm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """Person-hours of one operation on one surface, with their usual range."""

    surface: str
    operation: str
    name: str
    unit: str
    quantity: Decimal
    plasterer_h: Decimal
    labourer_h: Decimal
    low_h: Decimal
    high_h: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenOff:
    """The answer: materials, cutting list, labour, days, rubble and water."""

    materials: tuple[Material, ...]
    bars: tuple[Bar, ...]
    labour: tuple[Labour, ...]
    plasterer_h: Decimal
    labourer_h: Decimal
    low_h: Decimal
    high_h: Decimal
    gang: str
    days: int
    rubble_kg: Decimal
    rubble_sacks: int
    water_low_litres: Decimal
    water_high_litres: Decimal
    working: tuple[str, ...]
