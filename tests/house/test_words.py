"""Words that must not stand in the project, and words that must stand in its docs."""

import ast
import re

import pytest

from tests.house.tree import APPS, PROJECT, code, files, name_of

# The project runs anywhere: no folder of one machine, no host that serves packages.
# Bracketed letters keep the patterns from catching themselves.
FORBIDDEN = [
    r"(?<![\w.-])/(wor[k]|far[m]|roo[t])/[\w.-]",
    r"python[h]osted|py[p]i\.org|registry[.]npm|npm[j]s\.|deb[.]debian",
]
TEXT = (
    *("*.md", "*.py", "*.toml", "*.lock", "fixtures/**/*.*"),
    *(f"{folder}/**/*.{ending}" for folder in APPS for ending in ("py", "js", "css")),
    *("templates/**/*.*", "tests/**/*.py", "tests/**/*.txt"),
)
SETTING = re.compile(r"FIRM_[A-Z_]*[A-Z]")


def forbidden_in(text: str) -> list[str]:
    return [found[0] for word in FORBIDDEN for found in re.finditer(word, text)]


@pytest.mark.parametrize(
    "parts",
    [
        ("see /wo", "rk/notes"),
        ("https://py", "pi.org/simple"),
    ],
)
def test_a_forbidden_word_is_caught(parts):
    assert forbidden_in("".join(parts)) != []


@pytest.mark.parametrize(
    "text",
    [
        "https://office.example.com/work/3",
        "/usr/sbin/policy-rc.d",
    ],
)
def test_an_ordinary_word_is_let_through(text):
    assert forbidden_in(text) == []


def test_no_machine_and_no_registry_stands_in_the_project():
    hidden = [PROJECT / ".ci" / "run", PROJECT / ".ci" / "lock"]
    faults = {
        name_of(path): forbidden_in(path.read_text())
        for path in [*files(*TEXT), *hidden]
        if path.suffix not in {".ttf", ".woff2", ".png", ".jpg", ".pdf"}
    }
    assert {name: found for name, found in faults.items() if found} == {}


def settings_in(module: ast.Module) -> set[str]:
    """Find each FIRM_ variable that stands in code as a text of its own."""
    return {
        node.value
        for node in ast.walk(module)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and SETTING.fullmatch(node.value)
    }


def unnamed_in(page: str, words: set[str]) -> list[str]:
    return sorted(word for word in words if f"`{word}`" not in page)


def test_a_setting_is_seen_and_a_sentence_about_it_is_not():
    assert settings_in(ast.parse("os.environ['FIRM_HOME']")) == {"FIRM_HOME"}
    assert settings_in(ast.parse("'FIRM_HOME is not a folder.'")) == set()


def test_a_word_missing_from_the_page_is_named():
    assert unnamed_in("| `start` |", {"start", "tour"}) == ["tour"]


def test_the_page_names_every_command():
    commands = {path.stem for path in files("firm/management/commands/[!_]*.py")}
    assert commands
    assert unnamed_in((PROJECT / "DEVELOPERS.md").read_text(), commands) == []


def test_the_page_names_every_setting():
    read = [*code(), PROJECT / "manage.py", PROJECT / "tests" / "settings.py"]
    settings = {
        name for path in read for name in settings_in(ast.parse(path.read_text()))
    }
    assert "FIRM_HOME" in settings
    assert unnamed_in((PROJECT / "DEVELOPERS.md").read_text(), settings) == []
