"""Say what is not as it must be: the invariants, the guards, the papers on disk."""

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from firm.management.invariants import INVARIANTS
from firm.models import guards


class Command(BaseCommand):
    help = "Check the invariants from raw SQL; ends non-zero when one is broken."

    def handle(self, *args: Any, **options: Any) -> None:
        broken = [*broken_invariants(), *missing_guards(), *damaged_papers()]
        for sentence in broken:
            self.stderr.write(sentence)
        if broken:
            raise CommandError(f"{len(broken)} things are not as they must be.")
        self.stdout.write(f"All {len(INVARIANTS)} invariants, guards and papers hold.")


def broken_invariants() -> Iterator[str]:
    for invariant in INVARIANTS:
        with connection.cursor() as cursor:
            cursor.execute(invariant.sql)
            for row in cursor.fetchall():
                yield f"{invariant.code}: not so that {invariant.words}: {row}"


def missing_guards() -> Iterator[str]:
    for name in guards.missing():
        yield f"guard: {name} is missing from the database"


def damaged_papers() -> Iterator[str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT id, digest FROM firm_paper WHERE state = 'made'")
        rows = cursor.fetchall()
    for pk, digest in rows:
        file = paper_file(digest)
        if not file.is_file():
            yield f"paper {pk}: its file is missing"
        elif hashlib.sha256(file.read_bytes()).hexdigest() != digest:
            yield f"paper {pk}: its file is not what was kept"


def paper_file(digest: str) -> Path:
    folder = Path(settings.FIRM_HOME) / "papers"
    return folder / digest[:2] / digest[2:4] / f"{digest}.pdf"
