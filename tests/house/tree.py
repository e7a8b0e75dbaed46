"""The project's own files, as the rules of the house read them."""

import ast
from collections.abc import Callable, Iterator, Set
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
APPS = ("firm", "jobs", "quotes", "invoices")

Rule = Callable[[ast.Module], list[str]]


def files(*patterns: str) -> Iterator[Path]:
    """Find files by pattern, without hidden folders and what Django generated."""
    for pattern in patterns:
        for path in sorted(PROJECT.glob(pattern)):
            parts = path.relative_to(PROJECT).parts
            is_ours = not any(part.startswith((".", "__pycache__")) for part in parts)
            if path.is_file() and is_ours and "migrations" not in parts:
                yield path


def code(layer: str = "") -> Iterator[Path]:
    """Find the modules of one layer in every app, or all of them."""
    for app in APPS:
        if layer:
            yield from files(f"{app}/{layer}/**/*.py", f"{app}/{layer}.py")
        else:
            yield from files(f"{app}/**/*.py")


def name_of(path: Path) -> str:
    return path.relative_to(PROJECT).as_posix()


def faults(
    rule: Rule, paths: Iterator[Path], *, spared: Set[str] = frozenset()
) -> list[str]:
    """Apply a rule to each module and name the file before each fault."""
    return [
        f"{name_of(path)}: {fault}"
        for path in paths
        if name_of(path) not in spared
        for fault in rule(ast.parse(path.read_text()))
    ]
