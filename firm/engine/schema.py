"""The JSON Schema of a question, made from its dataclass so that it cannot drift."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import Any, Literal, get_args, get_origin, get_type_hints

from firm.engine.reading import DECIMAL, is_optional, is_required

DIALECT = "https://json-schema.org/draft/2020-12/schema"
SCALARS: dict[Any, dict[str, Any]] = {
    int: {"type": "integer"},
    str: {"type": "string"},
    bool: {"type": "boolean"},
    Decimal: {"type": "string", "pattern": f"^{DECIMAL.pattern}$"},
    date: {"type": "string", "format": "date"},
}


def schema_of(kind: type) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a dataclass and all within it.

    >>> from dataclasses import dataclass
    >>> @dataclass(frozen=True, slots=True, kw_only=True)
    ... class Wall:
    ...     width_mm: int
    >>> schema_of(Wall)["$defs"]["Wall"]["required"]
    ['width_mm']
    """
    found: dict[str, Any] = {}
    _object(kind, found)
    return {"$schema": DIALECT, "$ref": f"#/$defs/{kind.__name__}", "$defs": found}


def _object(kind: type, found: dict[str, Any]) -> dict[str, Any]:
    if kind.__name__ not in found:
        found[kind.__name__] = {}
        hints = get_type_hints(kind)
        found[kind.__name__] = {
            "type": "object",
            "description": (kind.__doc__ or "").strip().split("\n")[0],
            "properties": {f.name: _of(hints[f.name], found) for f in fields(kind)},
            "required": [f.name for f in fields(kind) if is_required(f)],
            "additionalProperties": False,
        }
    return {"$ref": f"#/$defs/{kind.__name__}"}


def _of(hint: Any, found: dict[str, Any]) -> dict[str, Any]:
    if hint in SCALARS:
        return dict(SCALARS[hint])
    if is_dataclass(hint) and isinstance(hint, type):
        return _object(hint, found)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return {"enum": [each.value for each in hint]}
    return _generic(hint, found)


def _generic(hint: Any, found: dict[str, Any]) -> dict[str, Any]:
    origin, args = get_origin(hint), get_args(hint)
    if origin is Literal:
        return {"enum": list(args)}
    if is_optional(hint):
        inner = next(arg for arg in args if arg is not type(None))
        return {"anyOf": [_of(inner, found), {"type": "null"}]}
    if origin is tuple:
        return {"type": "array", "items": _of(args[0], found)}
    if origin is Mapping:
        return {"type": "object", "additionalProperties": _of(args[1], found)}
    raise TypeError(f"No schema for {hint}.")
