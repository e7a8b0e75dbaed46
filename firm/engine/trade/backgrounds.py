"""The walls and ceilings a plasterer meets, and how the site tests are read.

The suction given is the usual one; the test on site wins. Everything is common
practice of the trade except where its source says more.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Suction = Literal["high", "moderate", "low"]
BackgroundCode = Literal["B01", "B03", "B04", "B06", "B07", "B08", "B12", "B13", "B14"]

# Brush clean water on: drawn in under about 30 s is high, still wet after about two
# minutes is low. Common practice.
HIGH_UNDER_S = 30
LOW_OVER_S = 120
# Tap on a 300 mm grid. Common practice.
HOLLOW_PATCH_PCT = Decimal(5)
HOLLOW_HACK_ALL_PCT = Decimal(30)
# BRE Digest 251 (from memory): category 2 up to 5 mm, 3 and over is structural.
STRUCTURAL_CRACK_MM = Decimal(5)
FILLED_CRACK_MM = Decimal("0.1")
# Gap under a 2 m straightedge. Common practice.
SKIM_ONLY_MM = 3
TOO_FAR_OUT_MM = 25
# Approved Document A 2C30 (read as reproduced): upright a third of the leaf, across a
# sixth.
CHASE_UPRIGHT_PARTS = 3
CHASE_ACROSS_PARTS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Background:
    """One background: how it draws, how it holds, what to do first."""

    code: BackgroundCode
    name: str
    suction: Suction
    key: str
    cracks: str
    preparation: str
    cautions: tuple[str, ...]
    is_masonry: bool = False
    is_plaster: bool = False
    stop: str = ""
    source: str = "Common practice."


BACKGROUNDS = (
    Background(
        code="B01",
        name="common brick",
        suction="high",
        key="raked joints good",
        cracks="shrinkage at joints",
        preparation="Brush down; joints raked 10–13 mm.",
        cautions=("C-SIL", "C-MH"),
        is_masonry=True,
    ),
    Background(
        code="B03",
        name="dense concrete block",
        suction="moderate",
        key="fair to good",
        cracks="straight cracks at bed joints if wet",
        preparation="Brush down.",
        cautions=("C-MH",),
        is_masonry=True,
    ),
    Background(
        code="B04",
        name="aerated block",
        suction="high",
        key="good",
        cracks="vertical shrinkage cracks, worst if plastered wet",
        preparation="Keep it dry and do not soak it; a light mist at most.",
        cautions=("C-SIL",),
        is_masonry=True,
        source=(
            "NHBC 9.2.3 table 2, 2019/2020 (read): plaster “should not be stronger "
            "than recommended by the blockwork manufacturer”."
        ),
    ),
    Background(
        code="B06",
        name="painted plaster, sound",
        suction="low",
        key="poor",
        cracks="hairline",
        preparation=(
            "Wash off grease, scrape what flakes, score; distemper comes off first."
        ),
        cautions=("C-LEAD", "C-ASB"),
        is_plaster=True,
    ),
    Background(
        code="B07",
        name="bare old gypsum plaster, sound",
        suction="high",
        key="fair",
        cracks="hairline",
        preparation="Scrape nibs and fill.",
        cautions=("C-ASB",),
        is_plaster=True,
    ),
    Background(
        code="B08",
        name="new plasterboard",
        suction="moderate",
        key="paper",
        cracks="at the joints if not taped",
        preparation="See that boards are fixed and dry.",
        cautions=("C-MH",),
        is_plaster=True,
        source="BS 8481:2006 checklist (read in part): boards fixed securely and dry.",
    ),
    Background(
        code="B12",
        name="textured coating",
        suction="moderate",
        key="texture",
        cracks="none known",
        preparation="Scrape nibs, once the sample is negative.",
        cautions=("C-ASB",),
        stop=(
            "Have the textured coating sampled first. Nothing is quoted that disturbs "
            "it until a laboratory has said in writing that it holds no asbestos."
        ),
    ),
    Background(
        code="B13",
        name="damp or salt-laden wall",
        suction="moderate",
        key="salts break the bond",
        cracks="none known",
        preparation="Hack off to at least 450 mm above the highest sign, once cured.",
        cautions=("C-DAMP", "C-ALK", "C-SIL", "C-HAV"),
        stop=(
            "Find and cure the damp first. A damp surveyor says what may go on the "
            "wall and when; gypsum plaster fails on it."
        ),
        source="Heritage guidance (read): at least 450 mm; BS 6576 (from memory).",
    ),
    Background(
        code="B14",
        name="chases for cables or pipes",
        suction="high",
        key="cut edges good",
        cracks="long crack along the chase",
        preparation="Brush out dust and loose edges.",
        cautions=("C-ELEC", "C-SIL", "C-STR"),
        source="NHBC 8.2-S2, 2010 (read): lathing where the cover is too thin.",
    ),
)
BY_CODE = {background.code: background for background in BACKGROUNDS}


def suction_of(seconds: int) -> Suction:
    """Read the water test.

    >>> suction_of(10), suction_of(30), suction_of(121)
    ('high', 'moderate', 'low')
    """
    if seconds < HIGH_UNDER_S:
        return "high"
    return "low" if seconds > LOW_OVER_S else "moderate"
