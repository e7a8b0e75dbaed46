"""Say what goes on each surface, and why.

Facts found on site come in; layers, reasons, cautions, refusals and drying days go
out, all read from the trade's tables. It never gives a clearance: asbestos, damp and
structure stop the work until somebody competent has said so.
"""

from firm.engine.refusal import Refused
from firm.engine.trade.backgrounds import Background, Suction
from firm.engine.trade.coats import BY_BACKGROUND
from firm.engine.trade.drying import Coating
from jobs.engine.drying import drying_days
from quotes.engine.specification_cautions import cautions_of, refused_of
from quotes.engine.specification_layers import layers_of, too_thick
from quotes.engine.specification_reading import (
    background_of,
    check,
    reading_of,
    stop_of,
)
from quotes.engine.specification_values import (
    Layer,
    ShownCaution,
    Specification,
    SpecifiedSurface,
    SpecifyAnswer,
    SpecifySurface,
)


def specify(question: Specification) -> SpecifyAnswer:
    """Specify every surface of a building.

    >>> board = SpecifySurface(name="Ceiling", background="B08", is_ceiling=True)
    >>> answer = specify(Specification(surfaces=(board,), building_year=2015))
    >>> [layer.product for layer in answer.surfaces[0].layers if layer.product]
    ['M-TAPE', 'M-FIN']
    """
    if not question.surfaces:
        raise Refused("There is no surface to specify. Add one.", "surfaces")
    _check_year(question)
    for number, surface in enumerate(question.surfaces):
        check(surface, path=f"surfaces[{number}]")
    found = tuple(_specified(surface, question) for surface in question.surfaces)
    return SpecifyAnswer(
        surfaces=found,
        cautions=_once(found),
        working=tuple(line for surface in found for line in surface.working),
    )


def _check_year(question: Specification) -> None:
    year = question.building_year
    if year is not None and not 1000 <= year <= 2100:
        raise Refused(
            f"The building cannot be of {year}. Give the year, for example 1936.",
            "building_year",
        )


def _specified(surface: SpecifySurface, question: Specification) -> SpecifiedSurface:
    background = background_of(surface)
    suction, suction_words = reading_of(surface)
    stop = stop_of(surface, suction) or _too_thick(surface, background, suction)
    layers = () if stop else layers_of(surface, background, suction)
    days = 0 if stop else _drying_days(background, layers)
    return SpecifiedSurface(
        name=surface.name,
        background=f"{background.code} {background.name}",
        suction=suction,
        layers=layers,
        why=tuple(layer.why for layer in layers),
        cautions=cautions_of(surface, background, question),
        refused=refused_of(surface, background),
        stop=stop,
        drying_days=days,
        working=_words(
            surface,
            background,
            suction_words=suction_words,
            layers=layers,
            stop=stop,
            days=days,
        ),
    )


def _too_thick(
    surface: SpecifySurface, background: Background, suction: Suction
) -> str:
    row = BY_BACKGROUND.get((background.code, suction))
    return too_thick(surface, row) if row else ""


def _drying_days(background: Background, layers: tuple[Layer, ...]) -> int:
    thickness_mm = sum(int(layer.thickness_mm or 0) for layer in layers)
    coating: Coating = "skim_on_board" if background.code == "B08" else "reskim"
    if any(layer.kind == "undercoat" for layer in layers):
        coating = "undercoat_and_finish"
    return drying_days(coating=coating, thickness_mm=thickness_mm, air="normal")


def _words(
    surface: SpecifySurface,
    background: Background,
    *,
    suction_words: str,
    layers: tuple[Layer, ...],
    stop: str,
    days: int,
) -> tuple[str, ...]:
    found = f"{surface.name}: {background.name}, {background.code}. {suction_words}"
    if stop:
        return found, f"{surface.name}: stop. {stop}"
    return (
        found,
        *(f"{surface.name}, {layer.kind}: {layer.words}" for layer in layers),
        f"{surface.name}: {days} clear days before the mist coat.",
    )


def _once(found: tuple[SpecifiedSurface, ...]) -> tuple[ShownCaution, ...]:
    shown = {c.code: c for surface in found for c in surface.cautions}
    return tuple(shown.values())
