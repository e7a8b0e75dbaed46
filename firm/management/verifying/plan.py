"""Everything that must hold, in the order in which it is looked at."""

import sys
from pathlib import Path

from firm.management.verifying import fresh_clone
from firm.management.verifying.step import (
    PROJECT,
    Outcome,
    Step,
    Surroundings,
    aloud,
    one_after_another,
    quietly,
)

PYTHON = sys.executable
SERVICES = ("initdb", "redis-server")


def beside_python(program: str) -> str:
    return str(Path(PYTHON).with_name(program))


def manage(*words: str) -> tuple[str, ...]:
    return (PYTHON, "manage.py", *words)


def as_at_the_front(surroundings: Surroundings) -> Outcome:
    """Let Django look at the settings as they are behind a public address."""
    look = quietly(*manage("check", "--deploy", "--fail-level", "WARNING"))
    return look({**surroundings, "FIRM_ADDRESS": "https://office.example.com"})


def shape_of_templates(surroundings: Surroundings) -> Outcome:
    templates = sorted(map(str, PROJECT.joinpath("templates").rglob("*.html")))
    words = ("--check", "--target-version", "5.2", *templates)
    return quietly(beside_python("djade"), *words)(surroundings)


def in_each_home() -> list[Step]:
    pytest = (PYTHON, "-m", "pytest", "-q")
    tour = one_after_another(quietly(*manage("migrate", "-v0")), aloud(*manage("tour")))
    both = [("embedded", ()), ("served", SERVICES)]
    return [
        *(
            Step(
                name="tests",
                do=aloud(*pytest, "-m", "not browser"),
                home=home,
                needs=needs,
            )
            for home, needs in both
        ),
        *(
            Step(
                name="browser",
                do=aloud(*pytest, "-m", "browser"),
                home=home,
                needs=(*needs, "chromium"),
                is_long=True,
            )
            for home, needs in both
        ),
        *(Step(name="tour", do=tour, home=home, needs=needs) for home, needs in both),
    ]


STEPS = [
    Step(
        name="format", do=quietly(PYTHON, "-m", "ruff", "format", "--check", "--quiet")
    ),
    Step(name="lint", do=quietly(PYTHON, "-m", "ruff", "check")),
    Step(
        name="templates",
        do=one_after_another(
            shape_of_templates,
            quietly(PYTHON, "-m", "djlint", "templates", "--lint", "--quiet"),
        ),
    ),
    Step(name="types", do=quietly(PYTHON, "-m", "mypy")),
    Step(name="layers", do=quietly(beside_python("lint-imports"))),
    Step(
        name="migrations", do=quietly(*manage("makemigrations", "--check", "--dry-run"))
    ),
    Step(name="deploy", do=as_at_the_front),
    *in_each_home(),
    Step(name="clone", do=fresh_clone.start_and_stop, needs=("git",), is_long=True),
]
