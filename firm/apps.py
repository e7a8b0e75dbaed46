import logging

from django.apps import AppConfig
from django.db.models.signals import post_migrate
from django.forms.fields import Field


class FirmConfig(AppConfig):
    name = "firm"
    verbose_name = "The firm"

    def ready(self) -> None:
        from firm.management import checks  # noqa: F401  registers
        from firm.models import guards, ledger_guards  # noqa: F401  registers
        from firm.views.keyless import HideKeys

        logging.getLogger("django.request").addFilter(HideKeys())
        # Django's own words name neither the field nor the remedy.
        Field.default_error_messages["required"] = "Fill this in."

        # The one signal in the house: SQLite loses triggers when a migration
        # rebuilds their table, and nothing but migrate knows when that was.
        post_migrate.connect(_put_guards_back, dispatch_uid="guards")


def _put_guards_back(using: str = "default", **_: object) -> None:
    from firm.models import guards

    guards.put_back(using)
