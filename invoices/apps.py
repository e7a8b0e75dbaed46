from django.apps import AppConfig


class InvoicesConfig(AppConfig):
    name = "invoices"

    def ready(self) -> None:
        from invoices.models import guards  # noqa: F401  registers the guards
