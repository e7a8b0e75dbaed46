from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal

from firm import may
from firm.engine.refusal import Refused
from firm.models import Crew, Firm, FirmFigure, HistoryLine, Payee, Person


def firm_or_none() -> Firm | None:
    return Firm.objects.filter(pk=1).first()


def newest_payee() -> Payee | None:
    return Payee.objects.first()


def the_firm() -> Firm:
    """Return the firm, or say that somebody has to write its details down first."""
    firm = firm_or_none()
    if firm is None:
        raise Refused("The firm's details are not written down yet. See Firm.")
    return firm


def payee_at(now: datetime) -> Payee:
    """Return the account that customers pay into at that moment."""
    payee = Payee.objects.filter(active_from_at__lte=now).first()
    if payee is None:
        raise Refused("No bank account is written down yet. See Firm.")
    return payee


def own_figures() -> dict[str, Decimal]:
    """Return the firm's own figures by the code of the trade row they overrule."""
    return dict(FirmFigure.objects.values_list("code", "value"))


def staff() -> Iterable[Person]:
    return Person.objects.exclude(role=Person.Role.CLOCK).select_related("crew")


def person_for(person: Person, person_id: int) -> Person | None:
    if not may.run_the_firm(person):
        return None
    return staff_row(person_id)


def staff_row(person_id: int) -> Person | None:
    rows = Person.objects.exclude(role=Person.Role.CLOCK)
    return rows.filter(pk=person_id).first()


def crews() -> Iterable[Crew]:
    return Crew.objects.working().prefetch_related("people", "time_off")


def firm_history(limit: int = 20) -> Iterable[HistoryLine]:
    lines = HistoryLine.objects.filter(about_kind__in=["firm", "person"])
    return lines.select_related("by")[:limit]
