"""How long plaster dries, and what other trades wait for: data with its sources.

Days are clear days at 15 to 20 °C, ventilated. Look and meter win over the calendar:
even pale colour, no dark patches. Status marks: "seen" the text was read, "memory" it
is known from the named source and wants checking, "common practice" has no authority.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Coating = Literal[
    "skim_on_board", "reskim", "undercoat_and_finish", "cement_and_finish"
]
Air = Literal["normal", "winter_unheated", "heated_ventilated"]
Status = Literal["seen", "memory", "common practice"]


@dataclass(frozen=True, slots=True, kw_only=True)
class DryingRow:
    """How long one coating takes: so many days, or one a millimetre when 0 is given."""

    code: str
    coating: Coating
    clear_days: int
    range_met: str
    source: str
    status: Status


DRYING = (
    DryingRow(
        code="K1",
        coating="skim_on_board",
        clear_days=3,
        range_met="2–5",
        source="Decorators' and plasterers' guides: 3–5 days.",
        status="seen",
    ),
    DryingRow(
        code="K2",
        coating="reskim",
        clear_days=5,
        range_met="3–7",
        source="Common practice.",
        status="common practice",
    ),
    DryingRow(
        code="K3",
        coating="undercoat_and_finish",
        clear_days=0,
        range_met="7–28",
        source="One millimetre a day of the whole thickness. Common practice.",
        status="common practice",
    ),
    DryingRow(
        code="K4",
        coating="cement_and_finish",
        clear_days=0,
        range_met="14–42",
        source="One millimetre a day of the whole thickness. Common practice.",
        status="common practice",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AirRow:
    """What the air of the room does to drying, and the least it may leave."""

    code: str
    air: Air
    factor: Decimal
    least_days: int
    words: str
    source: str


AIRS = (
    AirRow(
        code="",
        air="normal",
        factor=Decimal(1),
        least_days=0,
        words="",
        source="",
    ),
    AirRow(
        code="K5",
        air="winter_unheated",
        factor=Decimal("1.5"),
        least_days=0,
        words="winter, unheated",
        source="Common practice.",
    ),
    AirRow(
        code="K6",
        air="heated_ventilated",
        factor=Decimal("0.7"),
        least_days=2,
        words="heated and ventilated after the first day",
        source="Common practice.",
    ),
)

Follower = Literal[
    "mist_coat",
    "electrician_second_fix",
    "joiner_second_fix",
    "next_coat_of_paint",
    "vinyl_oil_wallpaper",
    "tiler",
    "kitchen_fitter",
    "radiators_back",
    "timber_floor",
    "heating_full_on",
    "others_in_the_room",
]
Waits = Literal["drying", "days", "board_or_solid", "after_mist_coat"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowerRow:
    """What one trade waits for: so many days, or as long as the plaster dries."""

    code: str
    follower: Follower
    words: str
    waits: Waits
    days: int
    solid_days: int
    state: str
    is_firm: bool
    source: str
    status: Status


def _row(
    code: str,
    follower: Follower,
    words: str,
    *,
    waits: Waits,
    days: int,
    solid_days: int = 0,
    state: str,
    is_firm: bool,
    source: str = "Common practice.",
    status: Status = "common practice",
) -> FollowerRow:
    return FollowerRow(
        code=code,
        follower=follower,
        words=words,
        waits=waits,
        days=days,
        solid_days=solid_days or days,
        state=state,
        is_firm=is_firm,
        source=source,
        status=status,
    )


FOLLOWERS = (
    _row(
        "T16",
        "electrician_second_fix",
        "electrician's second fix",
        waits="days",
        days=1,
        state="hard and surface dry; better after the mist coat",
        is_firm=False,
    ),
    _row(
        "T17",
        "joiner_second_fix",
        "joiner's second fix",
        waits="board_or_solid",
        days=3,
        solid_days=7,
        state="pale and dry",
        is_firm=False,
    ),
    _row(
        "T18",
        "mist_coat",
        "mist coat",
        waits="drying",
        days=0,
        state="pale and dry, no dark patches",
        is_firm=True,
    ),
    _row(
        "T19",
        "next_coat_of_paint",
        "next coat of paint",
        waits="after_mist_coat",
        days=1,
        state="mist coat dry",
        is_firm=True,
        source="Decorators' guides: recoat after 24 hours.",
        status="seen",
    ),
    _row(
        "T20",
        "vinyl_oil_wallpaper",
        "vinyl paint, oil paint or wallpaper",
        waits="board_or_solid",
        days=28,
        solid_days=60,
        state="dry by the meter; firm for oil paint",
        is_firm=False,
        source="At least four weeks is advised; two to three months for solid work.",
    ),
    _row(
        "T21",
        "tiler",
        "tiler",
        waits="days",
        days=28,
        state="dry throughout, not over 20 kg/m² with adhesive and grout",
        is_firm=True,
        source="BS 5385-1: four weeks; weight read in trade press on the 2018 edition.",
        status="memory",
    ),
    _row(
        "T23",
        "kitchen_fitter",
        "kitchen fitter",
        waits="board_or_solid",
        days=3,
        solid_days=7,
        state="hard and surface dry",
        is_firm=False,
    ),
    _row(
        "T24",
        "radiators_back",
        "plumber hanging the radiators again",
        waits="days",
        days=4,
        state="after the mist coat",
        is_firm=False,
    ),
    _row(
        "T25",
        "timber_floor",
        "timber floor",
        waits="days",
        days=14,
        state="the room's air settled",
        is_firm=False,
    ),
    _row(
        "T26",
        "heating_full_on",
        "heating full on",
        waits="days",
        days=2,
        state="no forced heat before; gently at first",
        is_firm=False,
    ),
    _row(
        "T27",
        "others_in_the_room",
        "other trades in the room",
        waits="days",
        days=1,
        state="no dust and nothing leaning on wet walls",
        is_firm=False,
    ),
)
