from datetime import datetime

from django.db import connection
from django.utils import timezone


def database_now() -> datetime:
    """Return the time that every worker agrees on: the database's own."""
    if connection.vendor != "postgresql":
        return timezone.now()
    with connection.cursor() as cursor:
        cursor.execute("SELECT clock_timestamp()")
        return cursor.fetchone()[0]
