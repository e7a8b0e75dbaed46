"""What is written down at the look, and what the measuring makes of it.

Lengths are whole millimetres, areas square metres in Decimal and unrounded. Anything
not measured (thickness, product, price) is for the engines that follow.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

OpeningKind = Literal[
    "window", "door", "opening", "fireplace", "hatch", "rooflight", "left_out"
]
SurfaceKind = Literal["wall", "ceiling"]
Basis = Literal[
    "true", "through", "nrm2", "nrm2_face", "smm7", "smm7_face", "own", "own_face"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reveal:
    """The plastered returns of an opening: jambs and head unless said otherwise."""

    depth_mm: int
    has_jambs: bool = True
    has_head: bool = True
    has_sill: bool = False
    is_beaded: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A part that is not plastered: a window, a door, a hatch, a radiator left on.

    Sizes are the plastered opening. `left_mm` is taken from the left end of the wall,
    `sill_mm` from the floor. A door stands on the floor unless its sill says not.
    """

    name: str
    kind: OpeningKind = "window"
    width_mm: int
    height_mm: int
    wall: str = ""
    left_mm: int | None = None
    sill_mm: int | None = None
    touches_edge: bool = False
    reveal: Reveal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """One wall of a walked room and the turn at its far end, right being positive."""

    name: str
    length_mm: int
    turn_deg: int = 90
    background: str = ""
    is_plastered: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A room walked clockwise, or a plain rectangle by length and width.

    A rectangle's walls are called A (length), B (width), C and D, clockwise.
    """

    name: str
    height_mm: int
    walls: tuple[Wall, ...] = ()
    length_mm: int | None = None
    width_mm: int | None = None
    openings: tuple[Opening, ...] = ()
    ceiling_openings: tuple[Opening, ...] = ()
    background: str = ""
    ceiling_background: str = ""
    has_ceiling: bool = True
    is_staircase: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A wall, strip or ceiling measured by itself; `feathered_mm` meets old plaster."""

    name: str
    kind: SurfaceKind = "wall"
    length_mm: int
    height_mm: int
    openings: tuple[Opening, ...] = ()
    background: str = ""
    feathered_mm: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Chase:
    """A slot cut for cables or pipes, to be filled; `count` of the same size."""

    name: str
    length_mm: int
    width_mm: int
    depth_mm: int
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A place to make good, counted or measured by its size."""

    name: str
    length_mm: int
    width_mm: int
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnRule:
    """The firm's own habit: voids up to a size measured through, narrow work by metre.

    The defaults are common practice with no published authority.
    """

    ignore_up_to_m2: Decimal = Decimal("2.00")
    narrow_up_to_mm: int = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """Everything to be measured in one go. No tolerance given: the usual one."""

    rooms: tuple[Room, ...] = ()
    surfaces: tuple[Surface, ...] = ()
    chases: tuple[Chase, ...] = ()
    patches: tuple[Patch, ...] = ()
    back_boxes: int = 0
    own_rule: OwnRule = OwnRule()
    tolerance_mm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Deduction:
    """One void, why it is or is not taken off, and on which bases it is."""

    what: str
    area_m2: Decimal
    is_boundary: bool
    deducted_by: tuple[Basis, ...]
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BasisArea:
    """What one basis makes of one surface: square metres, or metres when narrow."""

    basis: Basis
    area_m2: Decimal
    narrow_m: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredSurface:
    """One wall or ceiling. `net_m2` is what is truly plastered, reveals apart."""

    name: str
    room: str
    kind: SurfaceKind
    background: str
    length_mm: int
    height_mm: int
    gross_m2: Decimal
    deductions: tuple[Deduction, ...]
    net_m2: Decimal
    by_basis: tuple[BasisArea, ...]
    height_band: str
    working: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredReveal:
    """The returns of one opening: their run, their width, their area."""

    where: str
    surface: str
    sides: str
    length_m: Decimal
    width_mm: int
    area_m2: Decimal
    narrow_by: tuple[Basis, ...]
    working: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BeadRun:
    """Beads wanted in one place, one figure a piece, because a piece is not joined."""

    kind: Literal["corner", "reveal"]
    where: str
    pieces_mm: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A run where new plaster is feathered into old."""

    where: str
    length_m: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Total:
    """What one basis makes of the whole. Reveals stand apart from their walls.

    `reveals_m2` holds the reveals measured by area, `reveals_m` those by the metre;
    `total_m2` is walls, ceilings and `reveals_m2`.
    """

    walls_m2: Decimal
    ceilings_m2: Decimal
    narrow_m: Decimal
    reveals_m2: Decimal
    reveals_m: Decimal
    total_m2: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """The same work on every basis, side by side."""

    true: Total
    through: Total
    nrm2: Total
    nrm2_face: Total
    smm7: Total
    smm7_face: Total
    own: Total
    own_face: Total


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightBand:
    """A ceiling over 3.50 m, with the stage of height it is described in."""

    surface: str
    band: str
    area_m2: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """Whether a walked room came back to where it began, and what was done."""

    room: str
    girth_m: Decimal
    misclosure_mm: Decimal
    tolerance_mm: Decimal
    is_adjusted: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MakingGood:
    """Chases by the metre, patches by band, boxes by number."""

    chases_m: Decimal
    chase_fill_m3: Decimal
    back_boxes: int
    patches_small: int
    patches_middling: int
    patches_m2: Decimal
    working: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureAnswer:
    """The measured work, every figure with its working."""

    surfaces: tuple[MeasuredSurface, ...]
    reveals: tuple[MeasuredReveal, ...]
    beads: tuple[BeadRun, ...]
    joints: tuple[Joint, ...]
    totals: Totals
    height_bands: tuple[HeightBand, ...]
    closure: tuple[Closure, ...]
    making_good: MakingGood
    working: tuple[str, ...]
