"""Guards: what the database itself refuses, on SQLite and on PostgreSQL.

A guard is a trigger. SQLite drops a table's triggers whenever a migration
rebuilds the table, so the guards are put back after every migrate, and the
start-up check asks the database for each of them by name.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db import connections


@dataclass(frozen=True, kw_only=True)
class Guard:
    """One trigger, written for both databases."""

    name: str
    table: str
    sqlite: str
    postgresql: str


KNOWN: dict[str, Guard] = {}


def register(guards: Iterable[Guard]) -> None:
    KNOWN.update({guard.name: guard for guard in guards})


def freeze(*, name: str, table: str, events: str, when: str, words: str) -> list[Guard]:
    """Return guards that refuse to update or delete rows for which ``when`` holds.

    ``when`` reads the old row as OLD, in words that both databases know.
    """
    made = []
    for event in events.split():
        full = f"{name}_{event}".lower()
        made.append(
            Guard(
                name=full,
                table=table,
                sqlite=(
                    f"CREATE TRIGGER {full} BEFORE {event} ON {table}"
                    f" WHEN {when} BEGIN SELECT RAISE(ABORT, '{words}'); END"
                ),
                postgresql=(
                    f"CREATE OR REPLACE FUNCTION {full}() RETURNS trigger"
                    " LANGUAGE plpgsql AS $$ BEGIN"
                    f" RAISE EXCEPTION '{words}' USING ERRCODE = '23514'; END $$;"
                    f" CREATE TRIGGER {full} BEFORE {event} ON {table}"
                    f" FOR EACH ROW WHEN ({when}) EXECUTE FUNCTION {full}()"
                ),
            )
        )
    return made


def put_back(using: str = "default") -> None:
    """Make every known guard anew."""
    connection = connections[using]
    tables = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        for guard in KNOWN.values():
            if guard.table not in tables:
                continue
            cursor.execute(_drop(connection.vendor, guard))
            cursor.execute(
                guard.sqlite if connection.vendor == "sqlite" else guard.postgresql
            )


def _drop(vendor: str, guard: Guard) -> str:
    on_table = "" if vendor == "sqlite" else f" ON {guard.table}"
    return f"DROP TRIGGER IF EXISTS {guard.name}{on_table}"


def missing(using: str = "default") -> list[str]:
    """Return the names of guards that the database does not have."""
    connection = connections[using]
    question = (
        "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        if connection.vendor == "sqlite"
        else "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal"
    )
    with connection.cursor() as cursor:
        cursor.execute(question)
        present = {row[0] for row in cursor.fetchall()}
    return sorted(set(KNOWN) - present)
