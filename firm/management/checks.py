"""What must hold before the firm starts: refused otherwise, with the reason."""

import io
import sqlite3
from collections.abc import Sequence
from typing import Any

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.core.management import call_command
from django.db import DEFAULT_DB_ALIAS, connections
from django.db.migrations.executor import MigrationExecutor

from firm.engine.refusal import Refused
from firm.models import guards
from firm.surroundings import SQLITE_WITH_SAFE_WAL

FULL = 2


@register(Tags.security)
def check_settings(
    app_configs: Sequence[AppConfig] | None,  # noqa: ARG001 - what Django hands
    **_: Any,
) -> list[CheckMessage]:
    return faults_of(settings.DATABASES[DEFAULT_DB_ALIAS])


def faults_of(database: dict[str, Any]) -> list[CheckMessage]:
    found: list[CheckMessage] = []
    if database.get("ATOMIC_REQUESTS"):
        found.append(
            Error(
                "ATOMIC_REQUESTS makes every page a writer.",
                hint="Leave it out; each action opens its own transaction.",
                id="firm.E001",
            )
        )
    is_sqlite = database["ENGINE"].endswith("sqlite3")
    mode = database.get("OPTIONS", {}).get("transaction_mode")
    if is_sqlite and mode != "IMMEDIATE":
        found.append(
            Error(
                f"SQLite opens its transactions as {mode}: two people saving at"
                " once would be refused.",
                hint='Set OPTIONS["transaction_mode"] to "IMMEDIATE".',
                id="firm.E002",
            )
        )
    return found


@register(Tags.database)
def check_connection(
    app_configs: Sequence[AppConfig] | None,  # noqa: ARG001 - what Django hands
    databases: Sequence[str] | None = None,
    **_: Any,
) -> list[CheckMessage]:
    """Ask the live connection, because a file may override what was asked for."""
    if DEFAULT_DB_ALIAS not in (databases or ()):
        return []
    if connections[DEFAULT_DB_ALIAS].vendor != "sqlite":
        return []
    return [
        *_pragma("foreign_keys", (1,), "firm.E003", "rows could lose what they name"),
        *_pragma("synchronous", (FULL,), "firm.E004", "a power cut could undo a save"),
        *_pragma("journal_mode", _journals(), "firm.E005", "the file could be damaged"),
    ]


def _journals() -> tuple[str, ...]:
    safe_wal = sqlite3.sqlite_version_info >= SQLITE_WITH_SAFE_WAL
    return ("wal",) if safe_wal else ("delete", "truncate", "persist")


def _pragma(
    name: str, wanted: tuple[object, ...], error_id: str, danger: str
) -> list[CheckMessage]:
    with connections[DEFAULT_DB_ALIAS].cursor() as cursor:
        found = cursor.execute(f"PRAGMA {name}").fetchone()[0]
    if found in wanted:
        return []
    return [
        Error(
            f"SQLite runs with {name}={found}: {danger}.",
            hint=f"It needs {name}={wanted[0]}; see FIRM_DATABASE_URL in settings.",
            id=error_id,
        )
    ]


def pending_migrations() -> list[str]:
    """Name the migrations that this database has not been through."""
    executor = MigrationExecutor(connections[DEFAULT_DB_ALIAS])
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return [f"{migration.app_label}.{migration.name}" for migration, _ in plan]


def insist() -> None:
    """Refuse to start on ground that does not hold, and say what is wrong."""
    if pending := pending_migrations():
        raise Refused(
            f"The database is behind the program ({len(pending)} changes, first"
            f" {pending[0]}). Run: python3 manage.py migrate"
        )
    if absent := missing_guards():
        raise Refused(
            f"The database lacks its guards ({', '.join(absent)})."
            " Run: python3 manage.py migrate"
        )
    call_command("check", databases=[DEFAULT_DB_ALIAS], stdout=io.StringIO())


def missing_guards() -> list[str]:
    """Name the triggers that a database should hold and does not."""
    return guards.missing(DEFAULT_DB_ALIAS)
