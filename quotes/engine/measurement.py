"""Measure the work: what area is to be plastered, on every basis at once.

The sizes of the look come in as whole millimetres; areas go out as exact square metres
with the sum beside each. Nothing is priced, wasted or rounded here. Curves, slopes and
raking walls are measured as free surfaces by whoever knows their true size.
"""

from decimal import Decimal

from firm.engine.lengths import area_m2, check_length, figure, metres
from firm.engine.refusal import Refused
from quotes.engine.bases import RULE_WORDS, Rule, rules
from quotes.engine.faces import (
    STAIRCASE,
    Face,
    corner_beads,
    room_faces,
    surface_face,
)
from quotes.engine.making_good import making_good
from quotes.engine.measurement_values import (
    Basis,
    BasisArea,
    BeadRun,
    Closure,
    Deduction,
    HeightBand,
    Joint,
    MeasureAnswer,
    MeasuredReveal,
    MeasuredSurface,
    Measurement,
    Surface,
    SurfaceKind,
    Total,
    Totals,
)
from quotes.engine.openings import check_openings, deduction
from quotes.engine.reveals import measured_reveal, reveal_beads
from quotes.engine.room_walk import outline_of

NOTHING = "There is nothing to measure. Add a room, a surface, a chase or a patch."


def measure(question: Measurement) -> MeasureAnswer:
    """Measure rooms, surfaces, chases and patches.

    >>> from quotes.engine.measurement_values import Room
    >>> bedroom = Room(name="Bedroom", height_mm=2400, length_mm=4200, width_mm=3600)
    >>> measure(Measurement(rooms=(bedroom,))).totals.through.total_m2
    Decimal('52.56')
    """
    _check(question)
    asked = rules(question.own_rule)
    faces, closures, corners = _walk_rooms(question, asked)
    faces += [
        surface_face(surface, rules=asked, path=f"surfaces[{number}]")
        for number, surface in enumerate(question.surfaces)
    ]
    surfaces = tuple(_measured(face, asked) for face in faces)
    reveals = _reveals(faces, asked)
    good = making_good(question)
    totals = _totals(surfaces, reveals)
    return MeasureAnswer(
        surfaces=surfaces,
        reveals=reveals,
        beads=(*corners, *_opening_beads(faces)),
        joints=_joints(question.surfaces),
        totals=totals,
        height_bands=_height_bands(surfaces),
        closure=closures,
        making_good=good,
        working=(
            *(closure.words for closure in closures),
            *(line for surface in surfaces for line in surface.working),
            *(reveal.working for reveal in reveals),
            *good.working,
            *_total_words(totals),
        ),
    )


def _check(question: Measurement) -> None:
    counted = question.chases or question.patches or question.back_boxes
    if not (question.rooms or question.surfaces or counted):
        raise Refused(NOTHING)
    _refuse_twins(question)
    own = question.own_rule
    if not own.ignore_up_to_m2.is_finite() or own.ignore_up_to_m2 < 0:
        raise Refused(
            "The size up to which openings are left in cannot be less than nothing. "
            "Give 0 to take every opening off.",
            "own_rule.ignore_up_to_m2",
        )
    if own.narrow_up_to_mm < 0:
        raise Refused(
            "The width counted by the metre cannot be less than nothing. "
            "Give 0 to count everything by area.",
            "own_rule.narrow_up_to_mm",
        )
    if question.tolerance_mm is not None and question.tolerance_mm < 0:
        raise Refused(
            "The gap allowed in a walk cannot be less than nothing.", "tolerance_mm"
        )


def _refuse_twins(question: Measurement) -> None:
    seen: set[str] = set()
    named = [(f"rooms[{n}].name", r.name) for n, r in enumerate(question.rooms)]
    named += [(f"surfaces[{n}].name", s.name) for n, s in enumerate(question.surfaces)]
    for path, name in named:
        if name in seen:
            raise Refused(f"Two of them are called {name}. Rename one.", path)
        seen.add(name)


def _walk_rooms(
    question: Measurement, asked: tuple[Rule, ...]
) -> tuple[list[Face], tuple[Closure, ...], tuple[BeadRun, ...]]:
    faces: list[Face] = []
    closures: list[Closure] = []
    beads: list[BeadRun] = []
    for number, room in enumerate(question.rooms):
        path = f"rooms[{number}]"
        outline = outline_of(room, tolerance_mm=question.tolerance_mm, path=path)
        faces += room_faces(room, outline, rules=asked, path=path)
        closures.append(outline.closure)
        beads += corner_beads(room, outline)
    return faces, tuple(closures), tuple(beads)


def _measured(face: Face, asked: tuple[Rule, ...]) -> MeasuredSurface:
    check_openings(
        face.openings,
        face=face.name,
        length_mm=face.length_mm,
        height_mm=face.height_mm,
        gross_mm2=face.gross_mm2,
    )
    voids = tuple(
        deduction(
            opening, length_mm=face.length_mm, height_mm=face.height_mm, rules=asked
        )
        for _, opening in face.openings
    )
    gross_m2 = area_m2(face.gross_mm2)
    return MeasuredSurface(
        name=face.name,
        room=face.room,
        kind=face.kind,
        background=face.background,
        length_mm=face.length_mm,
        height_mm=face.height_mm,
        gross_m2=gross_m2,
        deductions=voids,
        net_m2=gross_m2 - sum((void.area_m2 for void in voids), Decimal()),
        by_basis=tuple(_basis_area(face, gross_m2, voids, rule) for rule in asked),
        height_band=face.height_band,
        working=(_face_words(face, gross_m2, voids), *(void.reason for void in voids)),
    )


def _basis_area(
    face: Face, gross_m2: Decimal, voids: tuple[Deduction, ...], rule: Rule
) -> BasisArea:
    narrow_m = face.narrow_m.get(rule.basis)
    if narrow_m is not None:
        return BasisArea(basis=rule.basis, area_m2=Decimal(), narrow_m=narrow_m)
    off = (void.area_m2 for void in voids if rule.basis in void.deducted_by)
    return BasisArea(
        basis=rule.basis, area_m2=gross_m2 - sum(off, Decimal()), narrow_m=Decimal()
    )


def _face_words(face: Face, gross_m2: Decimal, voids: tuple[Deduction, ...]) -> str:
    if not voids:
        return f"{face.name} {face.sum_words} m²."
    less = ", ".join(f"less {void.what} {figure(void.area_m2)}" for void in voids)
    net_m2 = gross_m2 - sum((void.area_m2 for void in voids), Decimal())
    return f"{face.name} {face.sum_words}, {less} = {figure(net_m2)} m²."


def _reveals(faces: list[Face], asked: tuple[Rule, ...]) -> tuple[MeasuredReveal, ...]:
    return tuple(
        measured_reveal(opening, opening.reveal, surface=face.name, rules=asked)
        for face in faces
        for _, opening in face.openings
        if opening.reveal is not None
    )


def _opening_beads(faces: list[Face]) -> tuple[BeadRun, ...]:
    return tuple(
        bead
        for face in faces
        for _, opening in face.openings
        for bead in reveal_beads(opening, surface=face.name)
    )


def _joints(surfaces: tuple[Surface, ...]) -> tuple[Joint, ...]:
    for number, surface in enumerate(surfaces):
        if surface.feathered_mm:
            check_length(
                surface.feathered_mm,
                what=f"The feathered joint of {surface.name}",
                field=f"surfaces[{number}].feathered_mm",
            )
    return tuple(
        Joint(where=surface.name, length_m=metres(surface.feathered_mm))
        for surface in surfaces
        if surface.feathered_mm
    )


def _height_bands(surfaces: tuple[MeasuredSurface, ...]) -> tuple[HeightBand, ...]:
    return tuple(
        HeightBand(
            surface=surface.name, band=surface.height_band, area_m2=surface.net_m2
        )
        for surface in surfaces
        if surface.height_band not in {"", STAIRCASE}
    )


def _totals(
    surfaces: tuple[MeasuredSurface, ...], reveals: tuple[MeasuredReveal, ...]
) -> Totals:
    return Totals(
        true=_total("true", surfaces, reveals),
        # Through leaves the voids in, and the reveals pay for them.
        through=_total("through", surfaces, ()),
        nrm2=_total("nrm2", surfaces, reveals),
        nrm2_face=_total("nrm2_face", surfaces, reveals),
        smm7=_total("smm7", surfaces, reveals),
        smm7_face=_total("smm7_face", surfaces, reveals),
        own=_total("own", surfaces, reveals),
        own_face=_total("own_face", surfaces, reveals),
    )


def _total(
    basis: Basis,
    surfaces: tuple[MeasuredSurface, ...],
    reveals: tuple[MeasuredReveal, ...],
) -> Total:
    sums: dict[SurfaceKind, Decimal] = {"wall": Decimal(), "ceiling": Decimal()}
    narrow_m = Decimal()
    for surface in surfaces:
        counted = next(area for area in surface.by_basis if area.basis == basis)
        sums[surface.kind] += counted.area_m2
        narrow_m += counted.narrow_m
    reveals_m2 = sum(
        (r.area_m2 for r in reveals if basis not in r.narrow_by), Decimal()
    )
    reveals_m = sum((r.length_m for r in reveals if basis in r.narrow_by), Decimal())
    return Total(
        walls_m2=sums["wall"],
        ceilings_m2=sums["ceiling"],
        narrow_m=narrow_m,
        reveals_m2=reveals_m2,
        reveals_m=reveals_m,
        total_m2=sums["wall"] + sums["ceiling"] + reveals_m2,
    )


def _total_words(totals: Totals) -> tuple[str, ...]:
    named = (
        ("true", totals.true),
        ("through", totals.through),
        ("nrm2", totals.nrm2),
        ("smm7", totals.smm7),
        ("own", totals.own),
    )
    return tuple(
        f"{RULE_WORDS[basis][0].upper()}{RULE_WORDS[basis][1:]}: walls "
        f"{figure(total.walls_m2)} + ceilings {figure(total.ceilings_m2)} + reveals "
        f"{figure(total.reveals_m2)} = {figure(total.total_m2)} m², narrow work "
        f"{figure(total.narrow_m + total.reveals_m)} m."
        for basis, total in named
    )
