"""Read a JSON value into a frozen dataclass by its type hints, and write one back.

Strict on purpose: unknown keys, missing keys and wrong types are faults, each with the
path to the field and a sentence, and all faults are told at once. Decimals travel as
text, because a JSON number is a binary fraction to most readers; dates are ISO.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, dataclass, field, fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from types import UnionType
from typing import (
    Any,
    Literal,
    TypeVar,
    Union,
    cast,
    get_args,
    get_origin,
    get_type_hints,
)

from firm.engine.refusal import Refused

Question = TypeVar("Question")
Fault = tuple[str, str]

DECIMAL = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,12})?")
ISO_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
WHOLE = "input"
A_DECIMAL = 'Write the figure as text, for example "12.42".'
A_DATE = 'Write the date as text, year first, for example "2026-11-24".'
A_WHOLE_NUMBER = "Give a whole number of at most nine figures, for example 2400."
LARGEST_WHOLE = 999_999_999
# Years for which bank holidays and tax rates can be asked at all.
FIRST_YEAR, LAST_YEAR = 1970, 2199
SCALARS = (int, str, bool, Decimal, date)


class Unreadable(Exception):
    """Everything that is wrong with a question: pairs of path and sentence."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__("; ".join(f"{path}: {text}" for path, text in faults))
        self.faults = faults


def read(kind: type[Question], value: object) -> Question:
    """Read a JSON value as a dataclass, or say all that is wrong with it.

    >>> @dataclass(frozen=True, slots=True, kw_only=True)
    ... class Wall:
    ...     width_mm: int
    >>> read(Wall, {"width_mm": 4000})
    Wall(width_mm=4000)
    """
    reader = _Reader()
    answer = reader.read(kind, value, "")
    if reader.faults:
        raise Unreadable(reader.faults)
    return cast("Question", answer)


def written(value: object) -> Any:
    """Turn a dataclass into plain JSON values, keys in the order declared.

    >>> written((Decimal("1.50"), date(2026, 11, 24), None, True))
    ['1.50', '2026-11-24', None, True]
    """
    if is_dataclass(value) and not isinstance(value, type):
        return {each.name: written(getattr(value, each.name)) for each in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): written(value[key]) for key in sorted(value, key=str)}
    if isinstance(value, tuple | list):
        return [written(each) for each in value]
    return _scalar_written(value)


def is_optional(hint: object) -> bool:
    """Say whether a hint allows null."""
    return get_origin(hint) in (Union, UnionType) and type(None) in get_args(hint)


def _scalar_written(value: object) -> Any:
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, date):
        return value.isoformat()
    if value is None or isinstance(value, bool | int | str):
        return value
    raise TypeError(f"A {type(value).__name__} has no place in an answer.")


@dataclass(slots=True)
class _Reader:
    faults: list[Fault] = field(default_factory=list)

    def fault(self, path: str, text: str) -> None:
        self.faults.append((path or WHOLE, text))

    def read(self, hint: Any, value: object, path: str) -> object:
        if is_dataclass(hint) and isinstance(hint, type):
            return self.read_dataclass(hint, value, path)
        if isinstance(hint, type) and issubclass(hint, Enum):
            return self.read_choice([each.value for each in hint], value, path, hint)
        if hint in SCALARS:
            return self.read_scalar(hint, value, path)
        return self.read_generic(hint, value, path)

    def read_generic(self, hint: Any, value: object, path: str) -> object:
        origin, args = get_origin(hint), get_args(hint)
        if origin is Literal:
            return self.read_choice(list(args), value, path)
        if is_optional(hint):
            inner = [arg for arg in args if arg is not type(None)]
            return None if value is None else self.read(inner[0], value, path)
        if origin is tuple:
            return self.read_list(args[0], value, path)
        if origin is Mapping:
            return self.read_mapping(args[1], value, path)
        raise TypeError(f"No way to read {hint} at {path}.")

    def read_dataclass(self, kind: type, value: object, path: str) -> object:
        if not isinstance(value, dict):
            self.fault(path, "Give an object with named fields.")
            return None
        hints = get_type_hints(kind)
        known = {each.name: each for each in fields(kind)}
        before = len(self.faults)
        for key in sorted(value.keys() - known.keys()):
            self.fault(_under(path, key), "No field is called that.")
        read = {
            name: self.read(hints[name], value[name], _under(path, name))
            for name in known
            if name in value
        }
        for name, each in known.items():
            if name not in value and is_required(each):
                self.fault(_under(path, name), "This is missing.")
        return self.built(kind, read, path) if len(self.faults) == before else None

    def built(self, kind: type, read: dict[str, object], path: str) -> object:
        try:
            return kind(**read)
        except Refused as refusal:
            at = _under(path, refusal.field) if refusal.field else path
            self.fault(at, refusal.text)
            return None

    def read_list(self, hint: Any, value: object, path: str) -> object:
        if not isinstance(value, list):
            self.fault(path, "Give a list.")
            return None
        return tuple(self.read(hint, v, f"{path}[{n}]") for n, v in enumerate(value))

    def read_mapping(self, hint: Any, value: object, path: str) -> object:
        if not isinstance(value, dict):
            self.fault(path, "Give an object with named figures.")
            return None
        return {k: self.read(hint, v, _under(path, k)) for k, v in value.items()}

    def read_choice(
        self,
        choices: list[Any],
        value: object,
        path: str,
        make: Callable[[Any], object] | None = None,
    ) -> object:
        same = [c for c in choices if c == value and type(c) is type(value)]
        if not same:
            self.fault(path, f"Pick one of {', '.join(map(str, choices))}.")
            return None
        return make(same[0]) if make else same[0]

    def read_scalar(self, hint: type, value: object, path: str) -> object:
        text, read = READERS[hint]
        answer = read(value)
        if answer is None:
            self.fault(path, text)
        return answer


def is_required(each: Field[Any]) -> bool:
    """Say whether a field must be given."""
    return each.default is MISSING and each.default_factory is MISSING


def _under(path: str, name: object) -> str:
    return f"{path}.{name}" if path else str(name)


def _whole(value: object) -> object:
    if not isinstance(value, int) or isinstance(value, bool):
        return None
    return value if abs(value) <= LARGEST_WHOLE else None


def _text(value: object) -> object:
    # Half a character (a lone surrogate) cannot be written back.
    if not isinstance(value, str) or any("\ud800" <= c <= "\udfff" for c in value):
        return None
    return value


def _decimal(value: object) -> object:
    if isinstance(value, str) and DECIMAL.fullmatch(value):
        return Decimal(value)
    return None


def _date(value: object) -> object:
    if not isinstance(value, str) or not ISO_DATE.fullmatch(value):
        return None
    try:
        day = date.fromisoformat(value)
    except ValueError:
        return None
    return day if FIRST_YEAR <= day.year <= LAST_YEAR else None


READERS: dict[type, tuple[str, Callable[[object], object]]] = {
    int: (A_WHOLE_NUMBER, _whole),
    str: ("Give a text.", _text),
    bool: ("Say true or false.", lambda v: v if isinstance(v, bool) else None),
    Decimal: (A_DECIMAL, _decimal),
    date: (A_DATE, _date),
}
