"""Every worked example under fixtures/reckon comes out as its hand-worked figures say.

`expect` holds the part of the answer that was worked by hand: named fields are looked
up, lists are compared one by one, decimals may differ by 0.005.
"""

import json
from decimal import Decimal, InvalidOperation
from pathlib import Path

import pytest

from firm.engine.reading import read, written
from jobs.engine.drying import Drying, dry
from quotes.engine.measurement import measure
from quotes.engine.measurement_values import Measurement
from quotes.engine.specification import specify
from quotes.engine.specification_values import Specification

FOLDER = Path(__file__).parents[2] / "fixtures" / "reckon"
ENGINES = {
    "measure": (Measurement, measure),
    "specify": (Specification, specify),
    "dry": (Drying, dry),
}
EXAMPLES = [
    pytest.param(name, path, id=f"{name}-{path.stem}")
    for name in ENGINES
    for path in sorted((FOLDER / name).glob("*.json"))
]


def differences(answer, expected, path=""):
    """Return the path of everything expected that the answer does not hold."""
    if isinstance(expected, dict):
        return [
            fault
            for key, value in expected.items()
            for fault in differences(answer[key], value, f"{path}.{key}")
        ]
    if isinstance(expected, list):
        if len(answer) != len(expected):
            return [f"{path}: {len(answer)} in place of {len(expected)}"]
        return [
            fault
            for n, value in enumerate(expected)
            for fault in differences(answer[n], value, f"{path}[{n}]")
        ]
    return [] if same(answer, expected) else [f"{path}: {answer} is not {expected}"]


def same(found, expected):
    try:
        return abs(Decimal(found) - Decimal(expected)) <= Decimal("0.005")
    except (InvalidOperation, TypeError):
        return found == expected


@pytest.mark.parametrize(("name", "path"), EXAMPLES)
def test_worked_example_comes_out_as_worked(name, path):
    kind, engine = ENGINES[name]
    example = json.loads(path.read_text("utf-8"))
    answer = written(engine(read(kind, example["input"])))
    assert example["source"].endswith(".")
    assert example["expect"]
    assert differences(answer, example["expect"]) == []


@pytest.mark.parametrize("name", ENGINES)
def test_every_engine_here_has_its_examples(name):
    stems = {path.stem for path in (FOLDER / name).glob("*.json")}
    wanted = {
        "measure": {"W1", "W2", "W3", "W4", "W5"},
        "specify": {"B01", "B03", "B04", "B06", "B07", "B08", "B12", "B13", "B14"},
        "dry": {"D1", "D2", "D2w", "D3", "D4", "D5", "D6", "D9"},
    }
    assert wanted[name] <= stems


def test_a_wrong_figure_is_seen():
    assert differences({"a": "1.00"}, {"a": "1.004"}) == []
    assert differences({"a": "1.00"}, {"a": "1.01"}) == [".a: 1.00 is not 1.01"]
    assert differences({"a": []}, {"a": ["x"]}) == [".a: 0 in place of 1"]
