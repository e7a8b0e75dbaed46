from argparse import ArgumentParser
from collections.abc import Callable, Iterator
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from firm.management.benches import measure

Bench = Callable[[], Iterator[str]]
BENCHES: dict[str, tuple[str, Bench]] = {
    "measure": ("how long does a house take to measure?", measure.run),
}


class Command(BaseCommand):
    """Print figures and ratios; they are to be read, and fail nothing."""

    help = "Take one measurement beside its floor: manage.py bench NAME."
    requires_system_checks = ()
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", nargs="?", help="which; none lists them")

    def handle(self, *, name: str | None, **options: Any) -> None:
        if name is None:
            for known, (asks, _) in BENCHES.items():
                self.stdout.write(f"{known:10}{asks}")
            return
        if name not in BENCHES:
            raise CommandError(
                f"Nothing is called that. Pick one of {', '.join(BENCHES)}."
            )
        for line in BENCHES[name][1]():
            self.stdout.write(line)
