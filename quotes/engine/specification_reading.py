"""Read the facts of a surface: how it draws, what it counts as, when to stop.

A stop means a specialist or a decision first. It is never turned into a coat.
"""

from decimal import Decimal

from firm.engine.refusal import Refused
from firm.engine.trade.backgrounds import (
    BY_CODE,
    CHASE_ACROSS_PARTS,
    CHASE_UPRIGHT_PARTS,
    HOLLOW_HACK_ALL_PCT,
    STRUCTURAL_CRACK_MM,
    TOO_FAR_OUT_MM,
    Background,
    Suction,
    suction_of,
)
from firm.engine.trade.coats import PRODUCTS
from quotes.engine.specification_values import SpecifySurface

THICKEST_MM = 200


def background_of(surface: SpecifySurface) -> Background:
    """Return what a surface counts as: paint turns plaster and board into B06."""
    background = BY_CODE[surface.background]
    painted = surface.is_painted and background.is_plaster
    return BY_CODE["B06"] if painted else background


def reading_of(surface: SpecifySurface) -> tuple[Suction, str]:
    """Return the suction and where it comes from; the test on site wins.

    >>> wall = SpecifySurface(name="Wall", background="B01", suction_s=300)
    >>> reading_of(wall)
    ('low', 'Suction low: water test 300 s on site.')
    """
    if surface.suction_s is not None:
        suction = suction_of(surface.suction_s)
        return suction, f"Suction {suction}: water test {surface.suction_s} s on site."
    if surface.suction is not None:
        return surface.suction, f"Suction {surface.suction}: as judged on site."
    if surface.is_painted:
        return "low", "Suction low: painted."
    background = background_of(surface)
    return background.suction, (
        f"Suction {background.suction}: usual for {background.name}; test it on site."
    )


def check(surface: SpecifySurface, *, path: str) -> None:
    """Refuse facts that cannot be."""
    _check_between(surface, path=path)
    for product in surface.asked:
        if product not in PRODUCTS:
            raise Refused(
                f"“{product}” on {surface.name} is no product known here. "
                f"Pick from {', '.join(PRODUCTS)}.",
                f"{path}.asked",
            )
    if surface.replastered_m2 > surface.outside_wall_m2:
        raise Refused(
            f"{surface.name}: {surface.replastered_m2} m² of outside wall replastered "
            f"is more than the {surface.outside_wall_m2} m² there is.",
            f"{path}.replastered_m2",
        )
    if surface.background == "B14" and not surface.chase_depth_mm:
        raise Refused(
            f"{surface.name} is a chase. Give its depth in millimetres, such as 25.",
            f"{path}.chase_depth_mm",
        )


def _check_between(surface: SpecifySurface, *, path: str) -> None:
    bounds = (
        ("suction_s", surface.suction_s or 0, 3_600, "s"),
        ("hollow_pct", surface.hollow_pct, 100, "%"),
        ("out_of_true_mm", surface.out_of_true_mm, THICKEST_MM, "mm"),
        ("crack_mm", surface.crack_mm, 1_000, "mm"),
        ("chase_depth_mm", surface.chase_depth_mm, THICKEST_MM, "mm"),
        ("leaf_mm", surface.leaf_mm, 1_000, "mm"),
        ("replastered_m2", surface.replastered_m2, 10_000, "m²"),
        ("outside_wall_m2", surface.outside_wall_m2, 10_000, "m²"),
    )
    for name, value, most, unit in bounds:
        if not (Decimal(value).is_finite() and 0 <= value <= most):
            raise Refused(
                f"{surface.name} has {value} {unit} where 0 to {most} {unit} is "
                "possible. Check the figure.",
                f"{path}.{name}",
            )


def stop_of(surface: SpecifySurface, suction: Suction) -> str:
    """Return why nothing may go on yet, empty when it may.

    >>> stop_of(SpecifySurface(name="Wall", background="B07"), "high")
    ''
    """
    reasons = (
        _stop_for_cracks(surface),
        _stop_for_background(surface, suction),
        _stop_for_hollow(surface),
        _stop_for_chase(surface),
    )
    return next((reason for reason in reasons if reason), "")


def _stop_for_cracks(surface: SpecifySurface) -> str:
    if surface.crack_mm <= STRUCTURAL_CRACK_MM:
        return ""
    return (
        f"A crack of {surface.crack_mm} mm is over {STRUCTURAL_CRACK_MM} mm "
        "(BRE Digest 251, category 3 and over): ask a structural engineer first."
    )


def _stop_for_background(surface: SpecifySurface, suction: Suction) -> str:
    background = background_of(surface)
    if surface.background == "B12":
        if surface.sample == "positive":
            return (
                "The textured coating holds asbestos. Leave it, or have it overboarded "
                "or removed by those trained and, where needed, licensed."
            )
        return "" if surface.sample == "negative" else background.stop
    if surface.background == "B04" and suction == "low" and not surface.is_painted:
        return (
            "Aerated block that does not draw water is wet. Let it dry first: "
            "plastered wet it shrinks and cracks."
        )
    return background.stop


def _stop_for_hollow(surface: SpecifySurface) -> str:
    if surface.is_ceiling and surface.hollow_pct > 0:
        return (
            "Part of the ceiling is hollow: overboard it into the joists or take it "
            "down, then specify the new board."
        )
    if surface.hollow_pct > HOLLOW_HACK_ALL_PCT:
        return (
            f"{surface.hollow_pct} % is hollow, over {HOLLOW_HACK_ALL_PCT} %: hack the "
            "whole wall off, then specify what is beneath."
        )
    return _stop_for_line(surface)


def _stop_for_line(surface: SpecifySurface) -> str:
    if surface.out_of_true_mm <= TOO_FAR_OUT_MM:
        return ""
    return (
        f"{surface.out_of_true_mm} mm out of true is over {TOO_FAR_OUT_MM} mm: board "
        "it or dub it out in layers to a separate specification."
    )


def _stop_for_chase(surface: SpecifySurface) -> str:
    if surface.background != "B14" or not surface.leaf_mm:
        return ""
    across = surface.is_chase_across
    parts = CHASE_ACROSS_PARTS if across else CHASE_UPRIGHT_PARTS
    way, part = ("across", "sixth") if across else ("upright", "third")
    if surface.chase_depth_mm * parts <= surface.leaf_mm:
        return ""
    return (
        f"A chase {surface.chase_depth_mm} mm deep cut {way} is deeper than one {part} "
        f"of the "
        f"{surface.leaf_mm} mm leaf (Approved Document A 2C30): ask an engineer first."
    )
