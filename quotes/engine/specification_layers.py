"""Build the layers of a surface from the table of coats, each with its reason."""

from decimal import Decimal

from firm.engine.trade import agents
from firm.engine.trade.backgrounds import (
    FILLED_CRACK_MM,
    HOLLOW_PATCH_PCT,
    SKIM_ONLY_MM,
    Background,
    Suction,
)
from firm.engine.trade.coats import (
    BY_BACKGROUND,
    CEILING_UNDERCOAT_MOST_MM,
    FINISH_MM,
    FINISH_WORDS,
    CoatRow,
)
from quotes.engine.specification_values import Layer, LayerKind, SpecifySurface

FINISH_OPERATION = {
    ("board", False): "SKW",
    ("board", True): "SKC",
    ("old", False): "RSW",
    ("old", True): "RSC",
}


def layers_of(
    surface: SpecifySurface, background: Background, suction: Suction
) -> tuple[Layer, ...]:
    """Return preparation, undercoat where one is needed, and finish."""
    row = BY_BACKGROUND[background.code, suction]
    undercoat_mm = undercoat_thickness_mm(surface, row)
    undercoat = (_undercoat(row, undercoat_mm),) if undercoat_mm else ()
    return (
        *_repairs(surface, background),
        _agent(surface, background, row),
        *undercoat,
        _finish(surface, background, undercoat_mm),
    )


def undercoat_thickness_mm(surface: SpecifySurface, row: CoatRow) -> int:
    """Return how thick the undercoat goes on: as deep as the wall or chase asks."""
    if surface.background == "B14":
        return max(surface.chase_depth_mm - FINISH_MM, 0)
    if row.nominal_mm == row.most_mm:
        return row.nominal_mm
    uneven_mm = surface.out_of_true_mm if surface.out_of_true_mm > SKIM_ONLY_MM else 0
    if surface.is_ceiling and row.nominal_mm:
        return max(CEILING_UNDERCOAT_MOST_MM, uneven_mm)
    return max(row.nominal_mm, uneven_mm)


def too_thick(surface: SpecifySurface, row: CoatRow) -> str:
    """Return why the undercoat needed is more than may hang there, empty if not."""
    needed_mm = undercoat_thickness_mm(surface, row)
    most_mm = row.most_mm
    if surface.is_ceiling:
        most_mm = min(most_mm, CEILING_UNDERCOAT_MOST_MM)
    if row.nominal_mm == row.most_mm and surface.background != "B14":
        needed_mm = max(needed_mm, surface.out_of_true_mm)
    if needed_mm <= most_mm:
        return ""
    return (
        f"{needed_mm} mm of undercoat is more than the {most_mm} mm that may go on "
        "here: board it, or have it dubbed out to a separate specification."
    )


def _repairs(surface: SpecifySurface, background: Background) -> tuple[Layer, ...]:
    found = [
        _layer(
            "preparation", words=background.preparation, why=f"Key: {background.key}."
        )
    ]
    if surface.hollow_pct > HOLLOW_PATCH_PCT:
        found.append(
            _layer(
                "preparation",
                operation="HKG",
                words="Hack off the hollow parts and patch with bonding undercoat.",
                why=f"{surface.hollow_pct} % is hollow, over {HOLLOW_PATCH_PCT} %.",
            )
        )
    elif surface.hollow_pct > 0:
        found.append(
            _layer(
                "preparation",
                words="Cut out and fill the hollow places.",
                why=f"{surface.hollow_pct} % is hollow, in places.",
            )
        )
    if surface.crack_mm >= FILLED_CRACK_MM:
        found.append(
            _layer(
                "preparation",
                words="Find the cause of the cracks, then fill and scrim them.",
                why=f"Cracks of {surface.crack_mm} mm, no more than fine.",
                source="BRE Digest 251, categories 1 and 2 (from memory).",
            )
        )
    return tuple(found)


def _agent(surface: SpecifySurface, background: Background, row: CoatRow) -> Layer:
    is_painted_masonry = surface.is_painted and background.is_masonry
    agent = agents.BY_CODE["GRIT" if is_painted_masonry else row.agent]
    return _layer(
        "preparation",
        product=agent.product,
        operation=agent.operation,
        words=f"{agent.words} {agent.interval}",
        coats=agent.coats,
        why=agent.why,
        source=agent.source,
    )


def _undercoat(row: CoatRow, thickness_mm: int) -> Layer:
    passes = -(-thickness_mm // row.per_pass_mm)
    name = "Undercoat plaster" if row.undercoat == "M-UND" else "Bonding undercoat"
    each = "one pass" if passes == 1 else f"{passes} passes"
    return _layer(
        "undercoat",
        product=row.undercoat,
        operation="CHS" if row.background == "B14" else "UCW",
        words=f"{name} {thickness_mm} mm in {each}.",
        thickness_mm=Decimal(thickness_mm),
        coats=passes,
        why=row.why,
        source=row.source,
    )


def _finish(
    surface: SpecifySurface, background: Background, undercoat_mm: int
) -> Layer:
    base = "board" if background.code == "B08" else "old"
    operation = FINISH_OPERATION[base, surface.is_ceiling]
    return _layer(
        "finish",
        product="M-FIN",
        operation="SET" if undercoat_mm else operation,
        words=f"{FINISH_MM} mm {FINISH_WORDS} (2–3 mm).",
        thickness_mm=Decimal(FINISH_MM),
        coats=2,
        why=(
            "On the undercoat once it has set and is still green."
            if undercoat_mm
            else "Flat enough to take the finish alone."
        ),
        source="Model clause M20 (read): finish 2–3 mm; common practice.",
    )


def _layer(
    kind: LayerKind,
    *,
    words: str,
    why: str,
    product: str = "",
    operation: str = "",
    thickness_mm: Decimal | None = None,
    coats: int = 1,
    source: str = "Common practice.",
) -> Layer:
    return Layer(
        kind=kind,
        product=product,
        operation=operation,
        words=words,
        thickness_mm=thickness_mm,
        coats=coats,
        why=why,
        source=source,
    )
