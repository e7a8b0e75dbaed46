import os
import sys
from typing import Any
from urllib.parse import urlsplit

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connections

from firm.engine.refusal import Refused
from firm.management import checks, homelock, household
from firm.management.demo import people
from firm.models import Person

ALREADY = "The firm has already been started from this home: {home}."


class Command(BaseCommand):
    help = "Start the whole firm on this machine: pages, worker, clock and post box."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=int, help="Port of the pages on loopback.")

    def handle(self, *, port: int | None, **options: Any) -> None:
        if port is not None and "FIRM_ADDRESS" not in os.environ:
            start_over_at(port)
        try:
            self.run(port or port_of_address())
        except Refused as refusal:
            raise CommandError(refusal.text) from None

    def run(self, port: int) -> None:
        refusal = ALREADY.format(home=settings.FIRM_HOME)
        with homelock.exclusive(settings.FIRM_HOME / "start.lock", refusal=refusal):
            if household.answers(port):
                raise Refused(
                    f"Something else answers at port {port} of this machine."
                    f" Start with another, such as --port {port + 1}."
                )
            self.prepare()
            with household.gathered(settings.BASE_DIR) as home:
                web = home.add("serve", "--port", str(port))
                home.add("work")
                if home.wait_for(port, web):
                    self.welcome()
                home.look_after()
        self.stdout.write("Stopped. Everything is kept in " + str(settings.FIRM_HOME))

    def prepare(self) -> None:
        """Make the tables and, in a new home, plant the demo firm."""
        call_command("migrate", interactive=False, verbosity=0)
        call_command("createcachetable", verbosity=0)
        checks.insist()
        if not Person.objects.staff().exists():
            call_command("plant_demo", verbosity=0)
        connections.close_all()

    def welcome(self) -> None:
        self.stdout.write(f"The firm is open at {settings.FIRM_ADDRESS}/")
        self.stdout.write(f"Everything is kept in {settings.FIRM_HOME}")
        if settings.FIRM_SMTP is None:
            self.stdout.write(
                f"Letters stay on this machine, in {settings.FIRM_HOME / 'post'}"
            )
        for person in Person.objects.staff().filter(email__endswith="example.com"):
            self.stdout.write(f"  {person.get_role_display():<12} {person.email}")
        if password := people.password_in_use():
            self.stdout.write(f"  Password of each, as the demo has it: {password}")
        self.stdout.write("Ctrl-C ends it.")
        self.stdout.flush()


def port_of_address() -> int:
    address = urlsplit(settings.FIRM_ADDRESS)
    is_here = address.scheme == "http" and address.hostname in {
        "127.0.0.1",
        "localhost",
    }
    return address.port or 80 if is_here else 8000


def start_over_at(port: int) -> None:
    """Links in letters start with the address, so the settings must know the port."""
    os.environ["FIRM_ADDRESS"] = f"http://127.0.0.1:{port}"
    again = [sys.executable, *sys.argv]
    os.execv(sys.executable, again)  # noqa: S606 - ourselves, without a shell
