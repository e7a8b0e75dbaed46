from django.conf import settings
from django.core.management import call_command
from django.db import migrations

TABLE = settings.CACHES["default"]["LOCATION"]


def make(apps, schema_editor):
    call_command("createcachetable", TABLE, database=schema_editor.connection.alias)


def drop(apps, schema_editor):
    schema_editor.execute(f"DROP TABLE {schema_editor.quote_name(TABLE)}")


class Migration(migrations.Migration):
    """Counts of sign-in attempts are shared by every process through this table."""

    dependencies = [("firm", "0001_initial")]
    operations = [migrations.RunPython(make, drop)]
