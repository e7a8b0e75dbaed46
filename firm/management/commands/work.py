from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from firm.engine.refusal import Refused
from firm.management import checks, homelock, leash
from firm.tasks.worker import work


class Command(BaseCommand):
    help = "Run one worker: it sends letters, prints papers and keeps the hours."
    requires_system_checks: list[str] = []

    def handle(self, **options: Any) -> None:
        leash.wear()
        try:
            checks.insist()
        except Refused as refusal:
            raise CommandError(refusal.text) from None
        with homelock.shared(settings.FIRM_HOME / "worker.lock") as is_first:
            # Several machines may share a PostgreSQL database, and the lock of
            # this home says nothing of theirs.
            code = work(is_alone=is_first and connection.vendor == "sqlite")
        if code:
            raise SystemExit(code)
