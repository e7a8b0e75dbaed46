from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from granian import Granian
from granian.constants import Interfaces

from firm.engine.refusal import Refused
from firm.management import checks, leash

# Twenty stalled uploads block twenty threads, and pages must still answer.
THREADS = 64


class Command(BaseCommand):
    help = "Run the web server alone."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=int, default=8000)

    def handle(self, **options: Any) -> None:
        leash.wear()
        try:
            checks.insist()
        except Refused as refusal:
            raise CommandError(refusal.text) from None
        Granian(
            "firm.wsgi:application",
            address="127.0.0.1",
            port=options["port"],
            interface=Interfaces.WSGI,
            blocking_threads=THREADS,
            websockets=False,
            log_enabled=False,
            workers_kill_timeout=2,
        ).serve()
