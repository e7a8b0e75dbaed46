"""Make the first person of a new firm, who then writes everything else down."""

import getpass
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.core.validators import validate_email
from django.db import transaction

from firm.models import Person

TAKEN = "There are people in this firm already. An owner adds others on the Firm page."


class Command(BaseCommand):
    help = "Make the owner of a new, empty firm; the demo firm is then not planted."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", help="Your name, in quotes.")
        parser.add_argument("email", help="The address you will sign in with.")

    def handle(self, *, name: str, email: str, **options: Any) -> None:
        call_command("migrate", interactive=False, verbosity=0)
        if Person.objects.staff().exists():
            raise CommandError(TAKEN)
        try:
            validate_email(email)
            password = getpass.getpass("Choose a password (12 characters or more): ")
            validate_password(password)
        except ValidationError as fault:
            raise CommandError(" ".join(fault.messages)) from None
        with transaction.atomic():
            Person.objects.create_user(
                email, password, name=name, role=Person.Role.OWNER
            )
        self.stdout.write(f"{name} owns the firm. Now: python3 manage.py start")
