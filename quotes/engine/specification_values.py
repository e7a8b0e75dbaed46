"""What is known of a surface, and what the trade says goes on it."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from firm.engine.trade.backgrounds import BackgroundCode, Suction

Sample = Literal["none", "negative", "positive"]
LayerKind = Literal["preparation", "undercoat", "finish"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecifySurface:
    """One wall or ceiling as found.

    The water test in seconds wins over the class, and both over what is usual. `asked`
    lists product codes somebody wants on it, from the wall outwards; what may not meet
    is refused with its rule. Chases give the depth to fill and the leaf cut into.
    """

    name: str
    background: BackgroundCode
    is_ceiling: bool = False
    suction_s: int | None = None
    suction: Suction | None = None
    hollow_pct: Decimal = Decimal(0)
    is_painted: bool = False
    out_of_true_mm: int = 0
    crack_mm: Decimal = Decimal(0)
    sample: Sample = "none"
    chase_depth_mm: int = 0
    is_chase_across: bool = False
    leaf_mm: int = 0
    outside_wall_m2: Decimal = Decimal(0)
    replastered_m2: Decimal = Decimal(0)
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Specification:
    """The surfaces of one building. No year known counts as old."""

    surfaces: tuple[SpecifySurface, ...]
    building_year: int | None = None
    is_listed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer: `product` and `operation` are the take-off's codes, empty for none.

    `thickness_mm` is the whole thickness, `coats` how many passes or applications.
    """

    kind: LayerKind
    product: str
    operation: str
    words: str
    thickness_mm: Decimal | None
    coats: int
    why: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownCaution:
    """A caution to show, with the authority it defers to."""

    code: str
    words: str
    authority: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RefusedPair:
    """Something asked for that may not be done, and the rule against it."""

    code: str
    asked: str
    rule: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecifiedSurface:
    """What goes on one surface. With `stop`, nothing does until that is settled."""

    name: str
    background: str
    suction: Suction
    layers: tuple[Layer, ...]
    why: tuple[str, ...]
    cautions: tuple[ShownCaution, ...]
    refused: tuple[RefusedPair, ...]
    stop: str
    drying_days: int
    working: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecifyAnswer:
    """Every surface specified, and each caution once for the whole job."""

    surfaces: tuple[SpecifiedSurface, ...]
    cautions: tuple[ShownCaution, ...]
    working: tuple[str, ...]
