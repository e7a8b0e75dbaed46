"""Reckon with one engine by hand: JSON in, JSON out, no database and no firm."""

import json
import sys
from argparse import ArgumentParser
from decimal import Decimal, DecimalException
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from firm.engine.reading import WHOLE, Fault, Unreadable, read, written
from firm.engine.refusal import Refused
from firm.engine.schema import schema_of
from firm.management.reckonable import RECKONABLES, Reckonable

EXAMPLE_KEYS = {"input", "expect", "source"}
BAD_INPUT = 2


class Command(BaseCommand):
    """Print the answer, or exit with 2 and one line a fault on standard error."""

    help = "Reckon with one engine by hand: manage.py reckon NAME FILE (or -)."
    requires_system_checks = ()
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", nargs="?", help="which engine; none lists them")
        parser.add_argument("file", nargs="?", help="a JSON file, or - for stdin")
        parser.add_argument("--example", action="store_true", help="print an example")
        parser.add_argument("--schema", action="store_true", help="print JSON Schema")

    def handle(self, *_args: object, **options: Any) -> None:
        try:
            self.stdout.write(_answer(options), ending="")
        except Unreadable as trouble:
            self._refuse(trouble.faults)
        except Refused as refusal:
            self._refuse([(refusal.field or WHOLE, refusal.text)])

    def _refuse(self, faults: list[Fault]) -> None:
        for path, text in faults:
            self.stderr.write(f"{path}: {text}", style_func=str)
        sys.exit(BAD_INPUT)


def _answer(options: dict[str, Any]) -> str:
    if options["name"] is None:
        return "".join(f"{r.name:10}{r.asks}\n" for r in RECKONABLES.values())
    reckonable = RECKONABLES.get(options["name"])
    if reckonable is None:
        names = ", ".join(RECKONABLES)
        raise Refused(f"Nothing is called that. Pick one of {names}.", field="NAME")
    if options["schema"]:
        return _text(schema_of(reckonable.question_class()))
    if options["example"]:
        return _text(_example(reckonable))
    if options["file"] is None:
        raise Refused("Name a JSON file, or - to read from here.", field="FILE")
    question: object = read(
        reckonable.question_class(), _bare(_parsed(options["file"]))
    )
    return _text(written(_reckoned(reckonable, question)))


def _reckoned(reckonable: Reckonable, question: object) -> object:
    try:
        return reckonable.answer()(question)
    except (DecimalException, OverflowError):
        # A wall of a billion square metres: no field is wrong, all of them are.
        raise Refused("These figures are too large to reckon with.") from None


def _example(reckonable: Reckonable) -> object:
    folder = Path(settings.BASE_DIR) / "fixtures" / "reckon" / reckonable.name
    files = sorted(folder.glob("*.json"))
    if not files:
        raise Refused(f"There is no example of {reckonable.name} yet.", field="NAME")
    return _bare(_parsed(str(files[0])))


def _parsed(name: str) -> object:
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text("utf-8")
        return json.loads(
            text,
            parse_float=Decimal,
            parse_constant=_no_constant,
            object_pairs_hook=_unique,
        )
    except OSError:
        raise Refused(f"There is no file '{name}' to read.", field="FILE") from None
    except json.JSONDecodeError as trouble:
        where = f"line {trouble.lineno}, column {trouble.colno}"
        raise Refused(f"This stops being JSON at {where}.", field=WHOLE) from None
    except UnicodeDecodeError:
        raise Refused("The file is not UTF-8 text.", field="FILE") from None
    except (ValueError, RecursionError):
        raise Refused("This is more than any question holds.", field=WHOLE) from None


def _no_constant(name: str) -> None:
    raise Refused(f"{name} is no figure.", field=WHOLE)


def _unique(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        twice = next(key for n, (key, _) in enumerate(pairs) if key in dict(pairs[:n]))
        raise Refused("This field is given twice.", field=twice)
    return found


def _bare(value: object) -> object:
    """Take the question out of a kept example, or the value as it is."""
    if isinstance(value, dict) and "input" in value and value.keys() <= EXAMPLE_KEYS:
        return value["input"]
    return value


def _text(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, indent=2) + "\n"
