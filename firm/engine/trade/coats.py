"""What goes on what, at which suction, how thick, and what may never meet.

Thicknesses in millimetres: nominal, most in one pass, most in all passes. They are
common practice except where a row's source says more; the bag's own instruction rules.
"""

from dataclasses import dataclass
from typing import Literal

from firm.engine.trade.backgrounds import BackgroundCode, Suction

Status = Literal["seen", "memory", "common practice"]
GYPSUM = ("M-BOND", "M-UND", "M-FIN")
CEMENT = ("MIX-1:3", "MIX-1:4", "MIX-1:5", "MIX-1:6", "MIX-1:1:6")
PRODUCTS = (*GYPSUM, *CEMENT, "M-PVA", "M-SBR", "M-GRIT")

FINISH_MM = 2
FINISH_WORDS = "finish plaster, laid on in two thin applications"
# 8 + 2 common practice; the 10 mm limit of a ceiling BS 8000-10/BS 5492, from memory.
CEILING_UNDERCOAT_MOST_MM = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatRow:
    """One line of the table: background and suction decide agent and undercoat."""

    background: BackgroundCode
    suction: Suction
    agent: str
    undercoat: str
    nominal_mm: int
    per_pass_mm: int
    most_mm: int
    why: str
    source: str = "Common practice."
    status: Status = "common practice"


def _row(
    background: BackgroundCode,
    suction: Suction,
    agent: str,
    undercoat: str,
    millimetres: tuple[int, int, int],
    *,
    why: str,
    source: str = "Common practice.",
    status: Status = "common practice",
) -> CoatRow:
    nominal_mm, per_pass_mm, most_mm = millimetres
    return CoatRow(
        background=background,
        suction=suction,
        agent=agent,
        undercoat=undercoat,
        nominal_mm=nominal_mm,
        per_pass_mm=per_pass_mm,
        most_mm=most_mm,
        why=why,
        source=source,
        status=status,
    )


FOR_SUCTION = "Undercoat plaster made for backgrounds that draw."
FOR_LOW = "Bonding undercoat holds where the wall draws little."
TWO_COAT = (
    "Model clause M20/210: two coats, 13 mm overall (read); limits common practice."
)
STRAIGHTEN = "Needed only where the old face is more than 3 mm out of true."
NO_UNDERCOAT = "Plasterboard “require[s] only one finishing coat” (handbook, read)."

COATS = (
    _row(
        "B01",
        "high",
        "PVA-SEAL",
        "M-UND",
        (11, 13, 25),
        why=FOR_SUCTION,
        source=TWO_COAT,
        status="seen",
    ),
    _row("B01", "moderate", "DAMP", "M-UND", (11, 13, 25), why=FOR_SUCTION),
    _row("B01", "low", "GRIT", "M-BOND", (11, 11, 25), why=FOR_LOW),
    _row("B03", "high", "PVA-SEAL", "M-UND", (11, 13, 25), why=FOR_SUCTION),
    _row("B03", "moderate", "DAMP", "M-UND", (11, 13, 25), why=FOR_SUCTION),
    _row("B03", "low", "GRIT", "M-BOND", (11, 11, 25), why=FOR_LOW),
    _row("B04", "high", "PVA-SEAL", "M-UND", (11, 11, 20), why=FOR_SUCTION),
    _row("B04", "moderate", "DAMP", "M-UND", (11, 11, 20), why=FOR_SUCTION),
    _row("B04", "low", "GRIT", "M-BOND", (11, 11, 20), why=FOR_LOW),
    _row("B06", "high", "PVA-SEAL-BOND", "M-BOND", (0, 11, 25), why=STRAIGHTEN),
    _row("B06", "moderate", "GRIT", "M-BOND", (0, 11, 25), why=STRAIGHTEN),
    _row("B06", "low", "GRIT", "M-BOND", (0, 11, 25), why=STRAIGHTEN),
    _row("B07", "high", "PVA-SEAL-BOND", "M-BOND", (0, 11, 25), why=STRAIGHTEN),
    _row("B07", "moderate", "PVA-BOND", "M-BOND", (0, 11, 25), why=STRAIGHTEN),
    _row("B07", "low", "GRIT", "M-BOND", (0, 11, 25), why=STRAIGHTEN),
    *(
        _row(
            "B08",
            suction,
            "TAPE",
            "M-BOND",
            (0, 8, 8),
            why=STRAIGHTEN,
            source=NO_UNDERCOAT,
            status="seen",
        )
        for suction in ("high", "moderate", "low")
    ),
    *(
        _row(
            "B12",
            suction,
            "GRIT",
            "M-BOND",
            (3, 3, 3),
            why="Tight over the ridges, so that the texture does not show through.",
        )
        for suction in ("high", "moderate", "low")
    ),
    *(
        _row(
            "B14",
            suction,
            "CHASE-EDGES",
            "M-BOND",
            (11, 11, 75),
            why="Fills the chase in passes, each firm before the next.",
        )
        for suction in ("high", "moderate", "low")
    ),
)
BY_BACKGROUND = {(row.background, row.suction): row for row in COATS}


@dataclass(frozen=True, slots=True, kw_only=True)
class NeverRow:
    """Two things that may not meet: `over` laid on a background or on `under`."""

    code: str
    over: tuple[str, ...]
    backgrounds: tuple[BackgroundCode, ...] = ()
    under: tuple[str, ...] = ()
    rule: str
    source: str
    status: Status


NEVER = (
    NeverRow(
        code="N-CEM-ON-GYP",
        over=CEMENT,
        backgrounds=("B06", "B07", "B08", "B12"),
        under=GYPSUM,
        rule="No cement coat on gypsum: they part, and the gypsum is the weaker.",
        source="Common practice.",
        status="common practice",
    ),
    NeverRow(
        code="N-GYP-ON-DAMP",
        over=GYPSUM,
        backgrounds=("B13",),
        rule="No gypsum plaster on a wall that stays damp.",
        source="Heritage guidance; BS 6576 from memory.",
        status="memory",
    ),
    NeverRow(
        code="N-PVA-ON-BOARD",
        over=("M-PVA",),
        backgrounds=("B08",),
        rule="No PVA on new board: the paper is the key.",
        source="Common practice.",
        status="common practice",
    ),
    NeverRow(
        code="N-CEM-ON-PVA",
        over=CEMENT,
        under=("M-PVA",),
        rule="No PVA under a cement coat: it softens when wet. Use SBR.",
        source="Common practice.",
        status="common practice",
    ),
    NeverRow(
        code="N-STRONG-ON-AERATED",
        over=("MIX-1:3", "MIX-1:4"),
        backgrounds=("B04",),
        rule="No strong mix on aerated block: it shrinks and tears the face.",
        source=(
            "NHBC 9.2.3 table 2, 2019/2020: not “stronger than recommended by the "
            "blockwork manufacturer”."
        ),
        status="seen",
    ),
)
