"""Labour: hours for each operation, what makes work slower, and the length of a day.

Hours are person-hours of a plasterer served by a labourer. All are planning values
of common practice with no published authority; a firm's own day notes are better.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from firm.engine.trade.figures import Figure

Unit = Literal["m²", "m", "room", "day"]
# Who keeps pace when a plasterer works alone: skims and floats slow down by a factor;
# any other operation costs one pair of hands the hours of both.
Family = Literal["skim", "float", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """Something that is done, and the unit it is counted in."""

    code: str
    name: str
    unit: Unit
    family: Family


# code, name, unit, family, plasterer h, labourer h, plasterer low, plasterer high
TABLE: tuple[tuple[str, str, Unit, Family, str, str, str, str], ...] = (
    ("SKW", "skim board walls", "m²", "skim", "0.18", "0.09", "0.13", "0.25"),
    ("SKC", "skim board ceilings", "m²", "skim", "0.22", "0.11", "0.15", "0.30"),
    ("RSW", "re-skim walls", "m²", "skim", "0.20", "0.10", "0.15", "0.30"),
    ("RSC", "re-skim ceilings", "m²", "skim", "0.24", "0.12", "0.18", "0.35"),
    ("UCW", "gypsum undercoat, walls", "m²", "float", "0.20", "0.10", "0.15", "0.30"),
    ("SET", "finish on undercoat", "m²", "float", "0.16", "0.08", "0.12", "0.22"),
    ("SCF", "sand:cement float", "m²", "float", "0.25", "0.15", "0.18", "0.35"),
    ("EXR", "external render, 2 coats", "m²", "float", "0.50", "0.30", "0.40", "0.70"),
    ("BDC", "board ceilings", "m²", "other", "0.20", "0.20", "0.15", "0.30"),
    ("BDW", "board stud walls", "m²", "other", "0.15", "0.15", "0.10", "0.20"),
    ("DAB", "board on dabs", "m²", "other", "0.18", "0.18", "0.12", "0.25"),
    ("OVB", "overboard old ceiling", "m²", "other", "0.24", "0.24", "0.18", "0.35"),
    ("RVS", "skim reveal", "m", "skim", "0.15", "0.05", "0.10", "0.20"),
    ("RVF", "float and set reveal", "m", "float", "0.25", "0.10", "0.20", "0.40"),
    ("BTH", "thin-coat bead", "m", "other", "0.06", "0", "0.04", "0.10"),
    ("BAN", "angle or stop bead", "m", "other", "0.10", "0", "0.07", "0.15"),
    ("TAP", "tape joint or angle", "m", "other", "0.02", "0", "0.01", "0.03"),
    ("CHS", "fill chase", "m", "float", "0.10", "0.05", "0.08", "0.15"),
    ("PAT", "fill patch", "m²", "float", "0.30", "0.15", "0.25", "0.60"),
    ("MSH", "fix mesh strip", "m", "other", "0.05", "0", "0.03", "0.08"),
    ("PRM", "primer, PVA or slurry", "m²", "other", "0.03", "0", "0.02", "0.05"),
    ("HKG", "hack off gypsum", "m²", "other", "0", "0.40", "0", "0"),
    ("HKC", "hack off sand:cement", "m²", "other", "0", "0.60", "0", "0"),
    ("BAG", "bag and carry out", "m²", "other", "0", "0.20", "0", "0"),
    ("SUP", "sheet up, set up", "room", "other", "0.25", "0.50", "0.25", "0.25"),
    ("CLR", "clear down", "day", "other", "0.25", "0.50", "0.25", "0.25"),
)

# The labourer's own range where the plasterer does not work at all.
LABOURER_RANGES = {
    "HKG": ("0.25", "0.60"),
    "HKC": ("0.40", "1.00"),
    "BAG": ("0.10", "0.40"),
}

OPERATIONS = {
    row[0]: Operation(code=row[0], name=row[1], unit=row[2], family=row[3])
    for row in TABLE
}

# code, value, unit, conditions
FACTORS = (
    ("F.solo_skim", "1.35", "times", "a plasterer alone, skimming"),
    ("F.solo_float", "1.50", "times", "a plasterer alone, floating and setting"),
    ("F.over_3000", "1.10", "times", "reach above 3.0 m"),
    ("F.over_3500", "1.25", "times", "reach above 3.5 m"),
    ("F.stairwell", "1.30", "times", "in a stairwell"),
    ("F.small_room", "1.20", "times", "a floor under 6 m²"),
    ("F.curved", "1.75", "times", "curved work"),
    ("F.arch", "2", "times", "the soffit of an arch"),
    ("PAT.least", "0.5", "h", "any patch under 1 m²"),
    ("DAY.hours", "7.5", "h", "productive hours of one person's day"),
)

SOURCE = "planning set P1"


def _row(code: str, values: tuple[str, str, str], unit: str, when: str) -> Figure:
    value, low, high = (Decimal(text) for text in values)
    return Figure(
        code=code,
        value=value,
        low=low,
        high=high,
        unit=unit,
        conditions=when,
        source=SOURCE,
        status="common practice",
    )


LABOUR_FIGURES = (
    *(
        _row(f"{code}.plasterer", (hours, low, high), f"h per {unit}", name)
        for code, name, unit, _, hours, _, low, high in TABLE
    ),
    *(
        _row(
            f"{code}.labourer",
            (hours, *LABOURER_RANGES.get(code, (hours, hours))),
            f"h per {unit}",
            name,
        )
        for code, name, unit, _, _, hours, _, _ in TABLE
    ),
    *(
        _row(code, (value, value, value), unit, when)
        for code, value, unit, when in FACTORS
    ),
)
