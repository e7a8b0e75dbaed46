from datetime import datetime

from django.apps import AppConfig


class InvoicesConfig(AppConfig):
    name = "invoices"

    def ready(self) -> None:
        # Models are loaded only by now.
        from firm.actions.papers import register_press
        from firm.actions.rounds import register_round
        from firm.actions.tray import register_check
        from firm.queries.papers import register_reader
        from invoices.actions.chaser import why_not_chase
        from invoices.documents.bill import bill_pdf
        from invoices.models import guards  # noqa: F401  registers the guards
        from invoices.queries.bill import paper_is_for
        from invoices.queries.bill_section import bill_section
        from jobs.queries.job_page import register_section

        register_section("bills", 60, bill_section)
        register_press("bill", bill_pdf)
        register_reader("bill", paper_is_for)
        register_check(
            "chase", lambda notice, now: why_not_chase(notice.about_id, now=now)
        )
        register_round("chasing", _chasing_round)


def _chasing_round(now: datetime) -> int:
    from firm.models import Person
    from invoices.actions.chaser import leave_chasers
    from invoices.queries.bill import unpaid_bills

    return leave_chasers(unpaid_bills(), by=Person.objects.clock(), now=now)
