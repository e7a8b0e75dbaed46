"""The walls of the house: what lies at the top, and who may lean on whom."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from django.apps import apps
from django.db import models
from django.db.migrations.autodetector import MigrationAutodetector
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.state import ModelState, ProjectState

from tests.house.tree import APPS, PROJECT

AT_THE_TOP = {
    *("README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml"),
    *("requirements.lock", *APPS, "templates", "tests", "fixtures"),
}
LINT_IMPORTS = str(Path(sys.executable).with_name("lint-imports"))


def strays_and_gaps(names: set[str]) -> set[str]:
    """Name what is too much or missing; hidden files and bytecode do not count."""
    seen = {name for name in names if not name.startswith((".", "__pycache__"))}
    return seen ^ AT_THE_TOP


def test_a_stray_and_a_gap_at_the_top_are_both_named():
    assert strays_and_gaps(AT_THE_TOP | {"notes.txt"}) == {"notes.txt"}
    assert strays_and_gaps(AT_THE_TOP - {"README.md"}) == {"README.md"}
    assert strays_and_gaps(AT_THE_TOP | {".git", "__pycache__"}) == set()


def test_the_top_holds_what_it_should_and_no_more():
    assert strays_and_gaps({path.name for path in PROJECT.iterdir()}) == set()


def broken_layers(project: Path) -> str:
    """Let import-linter judge a tree; an empty answer means every contract is kept."""
    done = subprocess.run(
        [LINT_IMPORTS, "--no-cache"],
        cwd=project,
        check=False,
        text=True,
        capture_output=True,
    )
    return "" if done.returncode == 0 else done.stdout + done.stderr


def test_apps_and_layers_lean_one_way():
    assert broken_layers(PROJECT) == ""


@pytest.mark.slow
@pytest.mark.parametrize(
    ("where", "line"),
    [
        ("jobs/utils.py", ""),
        ("jobs/queries/stray.py", "import quotes.models"),
        ("quotes/engine/stray.py", "import django"),
        ("quotes/views/stray.py", "import jobs.views"),
        ("jobs/actions/stray.py", "import jobs.views"),
    ],
)
def test_a_planted_fault_breaks_a_layer(tmp_path, where, line):
    for app in APPS:
        shutil.copytree(PROJECT / app, tmp_path / app, ignore=only_code)
    shutil.copy(PROJECT / "pyproject.toml", tmp_path)
    (tmp_path / where).write_text(line + "\n")
    module = where.removesuffix(".py").replace("/", ".")
    assert module in broken_layers(tmp_path)


def only_code(folder: str, names: list[str]) -> list[str]:
    return [
        name
        for name in names
        if ("." in name and not name.endswith(".py")) or name == "static"
    ]


def unwritten_migrations(models_now: ProjectState) -> set[str]:
    loader = MigrationLoader(None)
    difference = MigrationAutodetector(loader.project_state(), models_now)
    changes = difference.changes(loader.graph)
    return {app for app in changes if app in APPS}


def test_a_new_column_asks_for_a_migration():
    models_now = ProjectState.from_apps(apps)
    note = ModelState("jobs", "Stray", [("id", models.BigAutoField(primary_key=True))])
    models_now.add_model(note)
    assert "jobs" in unwritten_migrations(models_now)


def test_every_model_has_its_migration():
    assert unwritten_migrations(ProjectState.from_apps(apps)) == set()
