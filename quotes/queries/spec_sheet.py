"""What goes on the walls, laid out to be read: walls that are alike stand together."""

from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from firm.engine.refusal import Refused
from quotes.engine.specification_values import ShownCaution, SpecifiedSurface
from quotes.models import Look
from quotes.queries.specified import SurfaceFacts, specified_job


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeSurfaces:
    """Surfaces of one room that get the same."""

    title: str
    area_m2: Decimal
    length_m: Decimal
    is_chase: bool
    specified: SpecifiedSurface


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecRoom:
    name: str
    groups: tuple[AlikeSurfaces, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecSheet:
    rooms: tuple[SpecRoom, ...] = ()
    cautions: tuple[ShownCaution, ...] = ()
    stops: tuple[str, ...] = ()
    trouble: str = ""


def spec_sheet(look: Look) -> SpecSheet:
    try:
        job = specified_job(look.job_id)
    except Refused as refusal:
        return SpecSheet(trouble=refusal.text)
    by_room = groupby(job.surfaces, key=lambda surface: surface.room)
    return SpecSheet(
        rooms=tuple(
            SpecRoom(name=name, groups=_alike(list(surfaces)))
            for name, surfaces in by_room
        ),
        cautions=job.cautions,
        stops=job.stops,
    )


def _alike(surfaces: list[SurfaceFacts]) -> tuple[AlikeSurfaces, ...]:
    groups: dict[tuple[object, ...], list[SurfaceFacts]] = {}
    for surface in surfaces:
        found = surface.specified
        key = (surface.kind, found.background, found.suction, found.layers, found.stop)
        groups.setdefault(key, []).append(surface)
    return tuple(_group(members) for members in groups.values())


def _group(members: list[SurfaceFacts]) -> AlikeSurfaces:
    first = members[0]
    return AlikeSurfaces(
        title=_title(members),
        area_m2=sum((member.area_m2 for member in members), Decimal()),
        length_m=first.length_m,
        is_chase=first.kind == "chase",
        specified=first.specified,
    )


def _title(members: list[SurfaceFacts]) -> str:
    letters = [member.place for member in members]
    if members[0].kind != "wall":
        return letters[0].capitalize()
    if len(letters) == 1:
        return f"Wall {letters[0]}"
    return f"Walls {', '.join(letters[:-1])} and {letters[-1]}"
