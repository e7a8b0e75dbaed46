"""No function, module or template grows past what one reads in a sitting."""

import ast

import pytest

from tests.house.tree import code, faults, files, name_of

FUNCTION_LINES = 40
MODULE_LINES = 400
TEST_MODULE_LINES = 500
TEMPLATE_LINES = 120
Function = ast.FunctionDef | ast.AsyncFunctionDef


def long_functions(module: ast.Module) -> list[str]:
    return [
        f"{node.name} has {lines_of(node)} lines"
        for node in ast.walk(module)
        if isinstance(node, Function) and lines_of(node) > FUNCTION_LINES
    ]


def lines_of(function: Function) -> int:
    """Count from the def to the end, without the docstring."""
    lines = (function.end_lineno or function.lineno) - function.lineno + 1
    if ast.get_docstring(function) is None:
        return lines
    docstring = function.body[0]
    return lines - ((docstring.end_lineno or 0) - docstring.lineno + 1)


def too_long(text: str, *, cap: int) -> bool:
    return len(text.splitlines()) > cap


def function_of(lines: int) -> ast.Module:
    docstring = '    """One.\n\n    Two.\n    """\n'
    return ast.parse("def walk():\n" + docstring + "    step()\n" * (lines - 1))


def test_a_function_of_41_lines_is_long_and_one_of_40_is_not():
    assert long_functions(function_of(41)) == ["walk has 41 lines"]
    assert long_functions(function_of(40)) == []


def test_a_text_is_long_from_the_line_after_the_cap():
    assert too_long("x\n" * 3, cap=2)
    assert not too_long("x\n" * 2, cap=2)


def test_functions_keep_to_their_cap():
    assert faults(long_functions, code()) == []
    assert faults(long_functions, files("manage.py", "tests/**/*.py")) == []


@pytest.mark.parametrize(
    ("pattern", "cap"),
    [
        ("[!t]*/**/*.py", MODULE_LINES),
        ("manage.py", MODULE_LINES),
        ("tests/**/*.py", TEST_MODULE_LINES),
        ("templates/**/*.html", TEMPLATE_LINES),
        ("*/static/**/*.js", 150),
    ],
)
def test_files_keep_to_their_cap(pattern, cap):
    found = list(files(pattern))
    assert found
    long = [name_of(path) for path in found if too_long(path.read_text(), cap=cap)]
    assert long == []
