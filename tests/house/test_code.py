"""What code never does, each rule with a line it catches and one it lets through."""

import ast
from collections.abc import Iterator

import pytest

from tests.house.tree import APPS, Rule, code, faults, files, name_of

CLOCKS = {"now", "today", "utcnow", "localdate", "localtime"}
GIVEN_A_MOMENT = {"localdate", "localtime"}
CONSTRAINTS = {"CheckConstraint", "UniqueConstraint", "ExclusionConstraint", "Index"}
DUMPS = {"utils", "helpers", "common", "core", "services", "misc"}


def calls(module: ast.Module) -> Iterator[tuple[str, ast.Call]]:
    for node in ast.walk(module):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func), node


def floats(module: ast.Module) -> list[str]:
    return [
        f"line {node.lineno} has a float"
        for node in ast.walk(module)
        if (isinstance(node, ast.Constant) and isinstance(node.value, float))
        or (isinstance(node, ast.Name) and node.id == "float")
    ]


def querysets(module: ast.Module) -> list[str]:
    return [
        f"line {node.lineno} has .{node.attr}"
        for node in ast.walk(module)
        if isinstance(node, ast.Attribute)
        and node.attr in {"objects", "save", "delete", "bulk_create"}
    ]


def clocks(module: ast.Module) -> list[str]:
    """Find looks at the clock; a moment handed to localtime() is no look."""
    found = []
    for name, call in calls(module):
        last = name.rpartition(".")[2]
        is_given = last in GIVEN_A_MOMENT and bool(call.args or call.keywords)
        if last in CLOCKS and not is_given:
            found.append(f"line {call.lineno} reads the clock by {name}()")
    return found


def unnamed_constraints(module: ast.Module) -> list[str]:
    return [
        f"line {call.lineno} leaves a {name} unnamed"
        for name, call in calls(module)
        if name.rpartition(".")[2] in CONSTRAINTS
        and not any(word.arg == "name" for word in call.keywords)
    ]


def signals(module: ast.Module) -> list[str]:
    return [
        f"line {node.lineno} listens to {node.module}"
        for node in ast.walk(module)
        if isinstance(node, ast.ImportFrom)
        and (node.module or "").startswith(("django", "allauth"))
        and (node.module or "").endswith((".signals", ".dispatch"))
    ]


def trusted_markup(module: ast.Module) -> list[str]:
    return [
        f"line {node.lineno} trusts markup"
        for node in ast.walk(module)
        if (isinstance(node, ast.Name) and node.id in {"mark_safe", "SafeString"})
        or (isinstance(node, ast.Attribute) and node.attr in {"mark_safe", "is_safe"})
    ]


def swallowed_trouble(module: ast.Module) -> list[str]:
    return [
        f"line {node.lineno} passes over trouble"
        for node in ast.walk(module)
        if isinstance(node, ast.ExceptHandler)
        and (node.type is None or ast.unparse(node.type).endswith("Exception"))
        and all(isinstance(line, ast.Pass) for line in node.body)
    ]


def patches_of_ours(module: ast.Module) -> list[str]:
    """Find a test that puts something else where our own code stands."""
    ours = {
        alias.asname or alias.name.partition(".")[0]
        for node in ast.walk(module)
        if isinstance(node, ast.ImportFrom | ast.Import)
        for alias in node.names
        if (getattr(node, "module", None) or alias.name).partition(".")[0] in APPS
    }
    return [
        f"line {call.lineno} patches {ast.unparse(call.args[0])}"
        for name, call in calls(module)
        if name.endswith(("patch", "patch.object", "monkeypatch.setattr"))
        and call.args
        and ast.unparse(call.args[0]).strip("'\"").partition(".")[0] in ours | {*APPS}
    ]


@pytest.mark.parametrize(
    ("rule", "caught", "let_through"),
    [
        (floats, "share = 0.5", "share = Decimal('0.5')"),
        (floats, "share = float(area)", "def floated(area): ..."),
        (querysets, "Job.objects.get(pk=1)", "job_for(person, 1)"),
        (querysets, "job.save()", "save_job(job)"),
        (clocks, "due = timezone.now()", "due = later_than(now)"),
        (clocks, "day = localdate()", "day = localdate(sent_at)"),
        (clocks, "day = date.today()", "sent_at = DateTimeField(default=timezone.now)"),
        (unnamed_constraints, "CheckConstraint(condition=x)", "Index(name='by_day')"),
        (
            signals,
            "from django.db.models.signals import post_save",
            "from celery.signals import worker_ready",
        ),
        (trusted_markup, "mark_safe(note)", "format_html('<b>{}</b>', note)"),
        (
            swallowed_trouble,
            "try: go()\nexcept Exception: pass",
            "try: go()\nexcept FileNotFoundError: pass",
        ),
        (
            patches_of_ours,
            "patch('jobs.actions.job.open_job')",
            "patch('smtplib.SMTP')",
        ),
        (
            patches_of_ours,
            "from firm.actions import tray\nmonkeypatch.setattr(tray, 'leave', x)",
            "monkeypatch.setenv('FIRM_HOME', 'x')",
        ),
    ],
)
def test_each_rule_catches_and_lets_through(rule, caught, let_through):
    assert rule(ast.parse(caught)) != []
    assert rule(ast.parse(let_through)) == []


def test_engines_count_without_floats():
    assert faults(floats, code("engine")) == []


def test_views_ask_queries_and_actions():
    assert faults(querysets, code("views")) == []


def test_the_clock_is_read_at_the_edge_alone():
    inside = (
        path
        for path in code()
        if not {"views", "tasks", "management"} & set(path.parts)
    )
    spared = {
        "firm/queries/clock.py",  # is the clock
        "firm/sign_in.py",  # is called by allauth, which hands over no moment
        "firm/middleware.py",  # stands before the views
    }
    assert faults(clocks, inside, spared=spared) == []


def test_every_constraint_has_a_name():
    assert faults(unnamed_constraints, code("models")) == []


def test_nothing_happens_by_signal():
    # SQLite loses the guards when a migration rebuilds a table; migrate alone knows.
    assert faults(signals, code(), spared={"firm/apps.py"}) == []


@pytest.mark.parametrize("rule", [trusted_markup, swallowed_trouble])
def test_no_module_trusts_markup_or_hides_trouble(rule: Rule):
    assert faults(rule, code()) == []


def test_tests_leave_our_own_code_in_place():
    assert faults(patches_of_ours, files("tests/**/*.py")) == []


def is_a_dump(name: str) -> bool:
    return bool(DUMPS & set(name.removesuffix(".py").split("/")))


def test_every_module_is_called_by_what_it_holds():
    assert is_a_dump("jobs/utils.py")
    assert not is_a_dump("jobs/utilities_bill.py")
    # Services are meant there: PostgreSQL and Redis, as processes.
    spared = {"firm/management/services.py"}
    names = {name_of(path) for path in code()} - spared
    assert [name for name in sorted(names) if is_a_dump(name)] == []
