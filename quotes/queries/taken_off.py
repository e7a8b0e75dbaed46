"""From the specified surfaces of a job to what must be bought and how long it takes."""

from collections.abc import Iterator
from decimal import Decimal

from firm.engine.trade.figures import figures_with
from firm.engine.trade.labour import LABOUR_FIGURES, OPERATIONS
from firm.engine.trade.materials import MATERIAL_FIGURES
from firm.queries.firm import own_figures
from quotes.engine.specification_values import Layer
from quotes.engine.takeoff import (
    BeadNeed,
    LayerNeed,
    OperationNeed,
    Surface,
    TakenOff,
    TakeOff,
    take_off,
)
from quotes.models import Wall
from quotes.queries.specified import SpecifiedJob, SurfaceFacts

# Hollow parts are hacked off and made up with one pass of bonding undercoat.
# Common practice.
PATCH_MM = Decimal(11)
PATCH_ABOVE_PCT = 5
MADE_GOOD_BY = ("HKG", "BAG", "PAT")


def taken_off_job(job_id: int, specified: SpecifiedJob) -> TakenOff:
    """Take off a whole job for the usual gang of one and one."""
    own = figures_of_the_trade()
    tape_m = figures_with(MATERIAL_FIGURES, {})["M-TAPE.rate"]
    tape_m = own.get("M-TAPE.rate", tape_m)
    hollow = _hollow(job_id)
    surfaces = [
        surface
        for facts in specified.surfaces
        for surface in (
            _whole(facts, specified, tape_m=tape_m),
            *_hollow_parts(facts, hollow.get((facts.room_id, facts.place), 0)),
        )
    ]
    return take_off(
        TakeOff(
            surfaces=tuple(surfaces),
            beads=tuple(_beads(specified)),
            rooms=len({facts.room_id for facts in specified.surfaces}),
            figures=own,
        )
    )


def figures_of_the_trade() -> dict[str, Decimal]:
    """Return the firm's own figures for rows that the take-off knows."""
    known = {row.code for row in (*MATERIAL_FIGURES, *LABOUR_FIGURES)}
    return {code: value for code, value in own_figures().items() if code in known}


def _hollow(job_id: int) -> dict[tuple[int, str], int]:
    walls = Wall.objects.filter(room__look__job=job_id, hollow_pct__gt=PATCH_ABOVE_PCT)
    return {(wall.room_id, wall.letter): wall.hollow_pct for wall in walls}


def _whole(facts: SurfaceFacts, specified: SpecifiedJob, *, tape_m: Decimal) -> Surface:
    return Surface(
        name=facts.name,
        kind="ceiling" if facts.kind == "ceiling" else "wall",
        area_m2=facts.area_m2,
        length_m=facts.length_m,
        height_mm=facts.height_mm,
        layers=tuple(_layers(facts)),
        operations=tuple(_operations(facts, specified, tape_m=tape_m)),
    )


def _hollow_parts(facts: SurfaceFacts, hollow_pct: int) -> Iterator[Surface]:
    if hollow_pct:
        yield Surface(
            name=f"{facts.name} hollow parts",
            kind="wall",
            area_m2=facts.area_m2 * hollow_pct / 100,
            layers=(LayerNeed(product="M-BOND", thickness_mm=PATCH_MM),),
            operations=tuple(OperationNeed(code=code) for code in MADE_GOOD_BY),
        )


def _layers(facts: SurfaceFacts) -> Iterator[LayerNeed]:
    for layer in facts.specified.layers:
        if layer.product:
            yield LayerNeed(
                product=layer.product,
                thickness_mm=layer.thickness_mm,
                coats=_coats(layer),
            )


def _coats(layer: Layer) -> int:
    """Return the coats that each cover the area; passes of one thickness do not."""
    return 1 if layer.thickness_mm else layer.coats


def _operations(
    facts: SurfaceFacts, specified: SpecifiedJob, *, tape_m: Decimal
) -> Iterator[OperationNeed]:
    face_m2 = facts.area_m2 - _reveals_m2(facts, specified)
    for layer in facts.specified.layers:
        if layer.operation and layer.operation not in MADE_GOOD_BY:
            yield OperationNeed(
                code=layer.operation,
                quantity=_quantity(layer, facts, face_m2=face_m2, tape_m=tape_m),
                coats=_coats(layer),
            )
    if facts.reveal_m:
        code = "RVF" if is_floated(facts) else "RVS"
        yield OperationNeed(code=code, quantity=facts.reveal_m)


def _quantity(
    layer: Layer, facts: SurfaceFacts, *, face_m2: Decimal, tape_m: Decimal
) -> Decimal:
    """Return what an operation is counted in; reveals are done by the metre apart."""
    unit = OPERATIONS[layer.operation].unit
    if layer.operation == "TAP":
        return facts.area_m2 * tape_m
    if unit == "m":
        return facts.length_m
    return face_m2 if layer.kind != "preparation" else facts.area_m2


def _reveals_m2(facts: SurfaceFacts, specified: SpecifiedJob) -> Decimal:
    own = (r.area_m2 for r in specified.measured.reveals if r.surface == facts.name)
    return sum(own, Decimal())


def is_floated(facts: SurfaceFacts) -> bool:
    """Say whether an undercoat goes on, so that reveals and beads are deeper."""
    return any(layer.kind == "undercoat" for layer in facts.specified.layers)


def _beads(specified: SpecifiedJob) -> Iterator[BeadNeed]:
    floated = [facts for facts in specified.surfaces if is_floated(facts)]
    deep = {facts.name for facts in floated} | {facts.room for facts in floated}
    for run in specified.measured.beads:
        is_deep = run.where.partition(",")[0] in deep
        yield BeadNeed(
            product="M-BEAD-ANGLE" if is_deep else "M-BEAD-THIN",
            arrises_mm=run.pieces_mm,
        )
