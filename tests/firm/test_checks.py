"""What must hold before the firm starts, and the sentence when it does not."""

import pytest
from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from firm.engine.refusal import Refused
from firm.management import checks
from firm.models import guards

is_sqlite = pytest.mark.skipif(
    connection.vendor != "sqlite", reason="asks SQLite's own settings"
)


def ids(found):
    return [message.id for message in found]


@pytest.mark.django_db
def test_ground_as_we_lay_it_holds():
    checks.insist()
    assert checks.check_settings(None) == []
    assert checks.check_connection(None, databases=["default"]) == []


@pytest.mark.django_db
def test_a_migration_not_yet_made_refuses_to_start():
    assert checks.pending_migrations() == []
    [(app, name)] = MigrationLoader(connection).graph.leaf_nodes("firm")
    MigrationRecorder(connection).record_unapplied(app, name)
    with pytest.raises(Refused, match=f"behind the program .*{app}.{name}"):
        checks.insist()


@pytest.mark.django_db
def test_a_guard_that_is_gone_refuses_to_start():
    guard = next(iter(guards.KNOWN.values()))
    on_table = "" if connection.vendor == "sqlite" else f" ON {guard.table}"
    with connection.cursor() as cursor:
        cursor.execute(f"DROP TRIGGER {guard.name}{on_table}")
    with pytest.raises(Refused, match=f"lacks its guards.*{guard.name}"):
        checks.insist()


def test_a_page_that_is_one_transaction_is_refused(settings):
    database = {**settings.DATABASES["default"], "ATOMIC_REQUESTS": True}
    assert ids(checks.faults_of(database)) == ["firm.E001"]


def test_sqlite_that_does_not_open_for_writing_at_once_is_refused():
    database = {"ENGINE": "django.db.backends.sqlite3", "OPTIONS": {}}
    assert ids(checks.faults_of(database)) == ["firm.E002"]


@is_sqlite
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(
    ("pragma", "back", "error_id"),
    [
        ("foreign_keys = OFF", "foreign_keys = ON", "firm.E003"),
        ("synchronous = NORMAL", "synchronous = FULL", "firm.E004"),
    ],
)
def test_a_live_connection_less_safe_than_asked_is_refused(pragma, back, error_id):
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {pragma}")
        try:
            found = checks.check_connection(None, databases=["default"])
        finally:
            cursor.execute(f"PRAGMA {back}")
    assert ids(found) == [error_id]
