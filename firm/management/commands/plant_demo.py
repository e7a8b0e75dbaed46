from typing import Any
from urllib.parse import urlsplit

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.utils.timezone import now

from firm.engine.refusal import Refused
from firm.management.demo import people
from firm.management.demo.plant import plant

HERE = {"127.0.0.1", "localhost", "::1"}
NOT_IN_PUBLIC = (
    "Everybody knows the password of the demo, so it is not planted at {address}."
    " Begin with: python3 manage.py first_owner NAME EMAIL"
)


class Command(BaseCommand):
    help = "Plant the demo firm, with a month of work, into an empty home."

    def handle(self, *args: Any, verbosity: int = 1, **options: Any) -> None:
        if urlsplit(settings.FIRM_ADDRESS).hostname not in HERE:
            raise CommandError(NOT_IN_PUBLIC.format(address=settings.FIRM_ADDRESS))
        try:
            planted = plant(now=now())
        except Refused as refusal:
            raise CommandError(refusal.text) from None
        stages = ", ".join(
            f"{count} {stage.lower()}" for stage, count in planted.jobs.items()
        )
        self.stdout.write(
            f"Planted a demo firm: {planted.customers} customers,"
            f" {sum(planted.jobs.values())} jobs ({stages})."
        )
        self.stdout.write(
            f"Its {planted.papers} papers are printed one by one while it is open."
        )
        for line in people.sign_ins() if verbosity else ():
            self.stdout.write(line)
