"""Reckoning by hand: every kept example, and every way to ask wrongly."""

import json
import re
from decimal import Decimal
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command

from firm.management.reckonable import RECKONABLES

EXAMPLES = Path(__file__).parents[2] / "fixtures" / "reckon"
KEPT = sorted(EXAMPLES.glob("*/*.json"))
OURS = ["takeoff", "price", "order", "bill", "chase", "allocate"]
NEAR = Decimal("0.005")
PLACE = re.compile(r"([\w-]+)((?:\[[^\]]+\])*)")
GOOD = {"due_on": "2026-11-02", "today": "2026-11-10"}


def reckon(*arguments):
    out = StringIO()
    call_command("reckon", *arguments, stdout=out)
    return out.getvalue()


def refused(*arguments):
    """Run a question that must be refused and return its lines of complaint."""
    out, err = StringIO(), StringIO()
    with pytest.raises(SystemExit) as leaving:
        call_command("reckon", *arguments, stdout=out, stderr=err)
    assert leaving.value.code == 2
    assert out.getvalue() == ""
    lines = err.getvalue().splitlines()
    assert all(re.fullmatch(r"\S+: .*\.", line) for line in lines)
    return lines


def differences(answer, wanted, path=""):
    """Yield what was worked out by hand and is not in the answer."""
    if isinstance(wanted, dict):
        for key, value in wanted.items():
            yield from differences(at(answer, key), value, f"{path}.{key}")
    elif isinstance(wanted, list):
        if len(answer) != len(wanted):
            yield f"{path}: {len(answer)} in place of {len(wanted)}"
        for n, (found, value) in enumerate(zip(answer, wanted, strict=False)):
            yield from differences(found, value, f"{path}[{n}]")
    elif not same(answer, wanted):
        yield f"{path}: {answer} is not {wanted}"


def at(answer, path):
    """Follow a path such as materials[code=M-FIN].packs or lines[0].net_gbp."""
    # A dot inside brackets belongs to the value, as in [pack_size=2.4].
    for step in re.split(r"\.(?![^\[]*\])", path):
        name, places = PLACE.fullmatch(step).groups()
        answer = answer[name]
        for place in re.findall(r"\[([^\]]+)\]", places):
            answer = item(answer, place)
    return answer


def item(answers, place):
    key, equals, wanted = place.partition("=")
    if not equals:
        return answers[int(key)]
    return next(each for each in answers if same(each[key], wanted))


def same(found, wanted):
    try:
        return abs(Decimal(str(found)) - Decimal(str(wanted))) <= NEAR
    except ArithmeticError:
        return found == wanted


@pytest.mark.parametrize("file", KEPT, ids=lambda f: f"{f.parent.name}/{f.stem}")
def test_every_kept_example_answers_as_published(file):
    kept = json.loads(file.read_text("utf-8"))
    answer = json.loads(reckon(file.parent.name, str(file)))
    assert kept["source"]
    assert kept["expect"]
    assert answer["working"]
    assert list(differences(answer, kept["expect"])) == []


def test_a_wrong_figure_in_an_answer_is_seen():
    answer = {"lines": [{"code": "M-FIN", "gbp": "118.505"}], "next": None}
    right = {"lines[code=M-FIN].gbp": "118.51", "lines": [{"code": "M-FIN"}]}
    assert list(differences(answer, right)) == []
    for wrong in ({"lines[0].gbp": "118.52"}, {"lines": []}, {"next": "1"}):
        assert list(differences(answer, wrong))


def test_without_a_name_every_engine_is_listed():
    lines = reckon().splitlines()
    assert [line.split()[0] for line in lines] == list(RECKONABLES)


@pytest.mark.parametrize("name", OURS)
def test_the_example_runs_and_the_same_bytes_come_out_twice(name, tmp_path):
    file = tmp_path / "example.json"
    file.write_text(reckon(name, "--example"), "utf-8")
    first, second = reckon(name, str(file)), reckon(name, str(file))
    assert first == second
    assert json.loads(first)["working"]


@pytest.mark.parametrize("name", sorted(RECKONABLES))
def test_the_schema_forbids_what_the_reader_does_not_know(name):
    schema = json.loads(reckon(name, "--schema"))
    kinds = schema["$defs"].values()
    assert kinds
    assert all(kind["additionalProperties"] is False for kind in kinds)


def test_a_question_may_come_from_standard_input(monkeypatch):
    monkeypatch.setattr("sys.stdin", StringIO(json.dumps(GOOD)))
    assert json.loads(reckon("chase", "-"))["due_now"] == "nudge-2"


def ask_chase(tmp_path, text):
    file = tmp_path / "question.json"
    file.write_text(text, "utf-8")
    return refused("chase", str(file))


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"due_on": 20261102}, "due_on"),
        ({"due_on": "2026-11-31"}, "due_on"),
        ({"due_on": "0001-01-01"}, "due_on"),
        ({"colour": "pink"}, "colour"),
        ({"stops": {}}, "stops"),
        ({"stops": [{"kind": "asleep"}]}, "stops[0].kind"),
        ({"stops": [{"kind": "paid", "why": "x"}]}, "stops[0].why"),
        ({"stops": [{"kind": "promised"}]}, "stops[0].until_on"),
        ({"stops": ["paid"]}, "stops[0]"),
    ],
)
def test_a_wrong_field_is_named_with_its_path(tmp_path, changes, path):
    (line,) = ask_chase(tmp_path, json.dumps(GOOD | changes))
    assert line.startswith(f"{path}: ")


def test_all_faults_are_told_at_once(tmp_path):
    lines = ask_chase(tmp_path, '{"today": 1, "moon": "full"}')
    assert [line.split(":")[0] for line in sorted(lines)] == ["due_on", "moon", "today"]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        '{"due_on": NaN}',
        '{"due_on": "2026-11-02", "due_on": "2026-11-02", "today": "2026-11-10"}',
        "[" * 100_000,
        '{"due_on": ' + "9" * 5000 + "}",
    ],
)
def test_what_is_no_question_is_refused_without_a_traceback(tmp_path, text):
    assert len(ask_chase(tmp_path, text)) >= 1


def test_a_file_that_is_not_there_or_not_text_is_refused(tmp_path):
    assert refused("chase", str(tmp_path / "none.json"))
    binary = tmp_path / "photo.json"
    binary.write_bytes(b"\xff\xfe\x00")
    assert "UTF-8" in refused("chase", str(binary))[0]
    assert refused("chase", str(tmp_path))


def test_an_unknown_engine_and_a_missing_file_name_are_refused():
    assert "takeoff" in refused("guess")[0]
    assert refused("chase")[0].startswith("FILE: ")


def test_a_decimal_as_a_number_is_refused_and_as_text_is_read(tmp_path):
    file = tmp_path / "payment.json"
    bill = {"number": "1", "due_on": "2026-11-02", "balance_gbp": "10.00"}
    file.write_text(json.dumps({"gbp": "10.00", "bills": [bill]}), "utf-8")
    assert json.loads(reckon("allocate", str(file)))["left_gbp"] == "0.00"
    file.write_text(json.dumps({"gbp": 10.0, "bills": [bill]}), "utf-8")
    assert refused("allocate", str(file))[0].startswith("gbp: ")


def test_figures_beyond_reckoning_are_refused(tmp_path):
    file = tmp_path / "wall.json"
    nines = "9" * 12 + "." + "9" * 12
    layer = {"product": "M-FIN", "thickness_mm": nines}
    wall = {"name": "w", "kind": "wall", "area_m2": nines, "layers": [layer]}
    file.write_text(json.dumps({"surfaces": [wall]}), "utf-8")
    assert reckon("takeoff", str(file))
    heavy = {"surfaces": [wall], "figures": {"M-FIN.rate": nines}}
    file.write_text(json.dumps(heavy), "utf-8")
    assert "too large" in refused("takeoff", str(file))[0]
