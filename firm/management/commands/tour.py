import argparse
import logging
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils.timezone import now

from firm.engine.refusal import Refused
from firm.management.touring.tour import walk_one_job
from firm.management.touring.walk import Surprise

OCCUPIED = "{home} is not empty. The tour makes a home of its own there."


class Command(BaseCommand):
    help = "Walk one job from the call to the money, in a home of its own."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--into", type=Path, help="Make the home in this folder.")
        parser.add_argument("--keep", action="store_true", help="Keep what was made.")
        parser.add_argument("--here", action="store_true", help=argparse.SUPPRESS)

    def handle(
        self, *, into: Path | None, keep: bool, here: bool, **options: Any
    ) -> None:
        if here:
            self.walk()
        elif into is not None:
            if into.exists() and any(into.iterdir()):
                raise CommandError(OCCUPIED.format(home=into))
            self.go(into)
        elif keep:
            self.go(Path(tempfile.mkdtemp(prefix="firm-tour-")))
        else:
            with tempfile.TemporaryDirectory(prefix="firm-tour-") as folder:
                self.go(Path(folder), is_kept=False)

    def walk(self) -> None:
        # Each paper and letter is named by the tour itself.
        logging.getLogger("firm").setLevel(logging.WARNING)
        try:
            walk_one_job(tell=self.stdout.write, now=now())
        except (Refused, Surprise) as fault:
            raise CommandError(str(fault)) from None

    def go(self, home: Path, *, is_kept: bool = True) -> None:
        """Run ourselves in the new home, because settings are read once a process.

        A database that the surroundings name is used, if it holds no firm.
        """
        surroundings = {**os.environ, "FIRM_HOME": str(home), "FIRM_BOOTSTRAP": "0"}
        self.stdout.flush()
        done = subprocess.run(
            [sys.executable, str(settings.BASE_DIR / "manage.py"), "tour", "--here"],
            cwd=settings.BASE_DIR,
            env=surroundings,
            check=False,
        )
        if done.returncode:
            sys.exit(done.returncode)
        where = f"Everything is in {home}" if is_kept else "Its home is gone again"
        self.stdout.write(f"{where}.")
