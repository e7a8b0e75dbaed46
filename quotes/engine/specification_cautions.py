"""Which cautions a surface raises, and which wishes it refuses."""

from firm.engine.trade import cautions
from firm.engine.trade.backgrounds import (
    HOLLOW_PATCH_PCT,
    STRUCTURAL_CRACK_MM,
    Background,
)
from firm.engine.trade.coats import NEVER, NeverRow
from quotes.engine.specification_values import (
    RefusedPair,
    ShownCaution,
    Specification,
    SpecifySurface,
)


def cautions_of(
    surface: SpecifySurface, background: Background, question: Specification
) -> tuple[ShownCaution, ...]:
    """Return the cautions to show, in the order of the trade's list."""
    raised = {
        *background.cautions,
        *_from_the_work(surface),
        *_from_the_building(surface, question),
    }
    year = question.building_year
    return tuple(
        ShownCaution(
            code=caution.code, words=caution.words, authority=caution.authority
        )
        for caution in cautions.CAUTIONS
        if caution.code in raised
        and (
            _is_old_enough(caution, year)
            # A textured coating is presumed asbestos whatever the year.
            or (caution.code == "C-ASB" and surface.background == "B12")
        )
    )


def _is_old_enough(caution: cautions.Caution, year: int | None) -> bool:
    return not caution.before_year or year is None or year < caution.before_year


def _from_the_work(surface: SpecifySurface) -> set[str]:
    hacking = surface.hollow_pct > HOLLOW_PATCH_PCT
    raised = {"C-ALK", "C-DUST", "C-WASTE"}
    raised |= {"C-WAH"} if surface.is_ceiling else set()
    raised |= {"C-CEIL"} if surface.is_ceiling and surface.hollow_pct else set()
    raised |= {"C-SIL", "C-HAV", "C-ELEC"} if hacking else set()
    raised |= {"C-STR"} if surface.crack_mm > STRUCTURAL_CRACK_MM else set()
    # Building Regulations, regulation 23: more than half, so half itself is not.
    if surface.replastered_m2 * 2 > surface.outside_wall_m2:
        raised |= {"C-PARTL"}
    return raised


def _from_the_building(surface: SpecifySurface, question: Specification) -> set[str]:
    # Any building may hold asbestos; its year decides whether the caution shows.
    raised = {"C-ASB"}
    raised |= {"C-LEAD"} if surface.is_painted else set()
    raised |= {"C-LBC"} if question.is_listed else set()
    return raised


def refused_of(
    surface: SpecifySurface, background: Background
) -> tuple[RefusedPair, ...]:
    """Return what was asked for and may not be, each with its rule."""
    return tuple(
        RefusedPair(code=row.code, asked=product, rule=row.rule, source=row.source)
        for place, product in enumerate(surface.asked)
        for row in NEVER
        if product in row.over and _meets(row, surface, background, place)
    )


def _meets(
    row: NeverRow, surface: SpecifySurface, background: Background, place: int
) -> bool:
    beneath = surface.asked[:place]
    return background.code in row.backgrounds or any(p in row.under for p in beneath)
