from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.reading import Unreadable, read, written
from firm.engine.refusal import Refused
from firm.engine.schema import schema_of


class Suction(StrEnum):
    LOW = "low"
    HIGH = "high"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    width_mm: int

    def __post_init__(self) -> None:
        if self.width_mm <= 0:
            raise Refused("Give a width above nothing.", field="width_mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    name: str
    area_m2: Decimal
    suction: Suction = Suction.LOW
    basis: Literal["true", "through"] = "true"
    openings: tuple[Opening, ...] = ()
    hatch: Opening | None = None
    seen_on: date | None = None
    is_sound: bool = True
    figures: Mapping[str, Decimal] = field(default_factory=dict)


GOOD = {"name": "A", "area_m2": "8.64"}


def faults(changes):
    with pytest.raises(Unreadable) as trouble:
        read(Wall, {**GOOD, **changes})
    return trouble.value.faults


def test_defaults_stand_where_nothing_is_said():
    assert read(Wall, GOOD) == Wall(name="A", area_m2=Decimal("8.64"))


def test_every_kind_of_field_is_read():
    wall = read(
        Wall,
        {
            **GOOD,
            "suction": "high",
            "basis": "through",
            "openings": [{"width_mm": 800}],
            "seen_on": "2026-11-24",
            "is_sound": False,
            "figures": {"SKW.plasterer": "0.2"},
        },
    )
    assert wall.suction is Suction.HIGH
    assert wall.openings == (Opening(width_mm=800),)
    assert wall.seen_on == date(2026, 11, 24)
    assert wall.figures == {"SKW.plasterer": Decimal("0.2")}


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"name": 7}, "name"),
        ({"name": "\ud800"}, "name"),
        ({"area_m2": 8.64}, "area_m2"),
        ({"area_m2": "8,64"}, "area_m2"),
        ({"area_m2": "NaN"}, "area_m2"),
        ({"area_m2": "1e3"}, "area_m2"),
        ({"suction": "HIGH"}, "suction"),
        ({"basis": True}, "basis"),
        ({"openings": {}}, "openings"),
        ({"openings": [{"width_mm": True}]}, "openings[0].width_mm"),
        ({"openings": [{"width_mm": 10**9}]}, "openings[0].width_mm"),
        ({"openings": [{"width_mm": 8}, {"width_mm": 0}]}, "openings[1].width_mm"),
        ({"openings": [{}]}, "openings[0].width_mm"),
        ({"openings": [[]]}, "openings[0]"),
        ({"seen_on": "24.11.2026"}, "seen_on"),
        ({"seen_on": "20261124"}, "seen_on"),
        ({"seen_on": "2026-02-30"}, "seen_on"),
        ({"is_sound": 1}, "is_sound"),
        ({"figures": []}, "figures"),
        ({"figures": {"SKW": "x"}}, "figures.SKW"),
        ({"colour": "pink"}, "colour"),
    ],
)
def test_one_wrong_field_gives_one_fault_with_its_path(changes, path):
    ((found, text),) = faults(changes)
    assert found == path
    assert text.endswith(".")


def test_all_faults_come_together():
    found = faults({"name": 1, "area_m2": 2, "moon": 3})
    assert sorted(path for path, _ in found) == ["area_m2", "moon", "name"]


def test_a_question_that_is_no_object_is_refused():
    with pytest.raises(Unreadable, match="input: Give an object"):
        read(Wall, [])


def test_a_refusal_without_a_field_is_told_of_the_whole():
    @dataclass(frozen=True, slots=True, kw_only=True)
    class Never:
        def __post_init__(self) -> None:
            raise Refused("Not today.")

    with pytest.raises(Unreadable, match=r"input: Not today\."):
        read(Never, {})


walls = st.builds(
    Wall,
    name=st.text(st.characters(exclude_categories=["Cs"])),
    area_m2=st.decimals(0, 10**6, places=3),
    suction=st.sampled_from(Suction),
    basis=st.sampled_from(["true", "through"]),
    openings=st.lists(st.builds(Opening, width_mm=st.integers(1, 9999))).map(tuple),
    seen_on=st.none() | st.dates(date(1970, 1, 1), date(2199, 12, 31)),
    is_sound=st.booleans(),
    figures=st.dictionaries(st.text("ABC."), st.decimals(0, 9, places=2)),
)


@given(walls)
def test_what_is_written_is_read_back_the_same(wall):
    assert read(Wall, written(wall)) == wall


def test_a_binary_fraction_is_never_written():
    with pytest.raises(TypeError):
        written(0.1)


def test_the_schema_names_every_field_and_what_is_required():
    kinds = schema_of(Wall)["$defs"]
    wall = kinds["Wall"]
    assert wall["required"] == ["name", "area_m2"]
    assert wall["properties"]["suction"] == {"enum": ["low", "high"]}
    assert wall["properties"]["basis"] == {"enum": ["true", "through"]}
    assert wall["properties"]["openings"]["items"] == {"$ref": "#/$defs/Opening"}
    assert wall["properties"]["seen_on"]["anyOf"][1] == {"type": "null"}
    assert wall["properties"]["figures"]["additionalProperties"]["type"] == "string"
    assert kinds["Opening"]["required"] == ["width_mm"]


def test_a_hint_nobody_can_read_is_a_fault_of_the_code():
    @dataclass(frozen=True, slots=True, kw_only=True)
    class Odd:
        weight: float

    with pytest.raises(TypeError, match="No way to read"):
        read(Odd, {"weight": 1})
    with pytest.raises(TypeError, match="No schema"):
        schema_of(Odd)
