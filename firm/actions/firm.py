"""Change the firm's own details, crews, figures and account."""

from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import IntegrityError, transaction

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.models import Crew, Firm, FirmFigure, Payee, Person, TimeOff

ONLY_THE_OWNER = "Only the owner can change the firm's details."
PAYEE_STAYS = (
    "The account that customers pay into cannot be changed from here: a change needs a"
    " second person and a day's wait."
)
FIRM = ("firm", 1)


@transaction.atomic
def set_firm(*, by: Person, now: datetime, **columns: Any) -> Firm:
    """Write down who the firm is and the terms it works by."""
    _check(by)
    if columns["is_vat_registered"] and not columns["vat_number"]:
        raise Refused("A VAT-registered firm needs its VAT number.", "vat_number")
    firm, is_new = Firm.objects.update_or_create(pk=1, defaults=columns)
    words = "The firm's details were " + ("written down." if is_new else "changed.")
    history.write(about=FIRM, event="firm-set", words=words, now=now, by=by)
    return firm


@transaction.atomic
def add_crew(
    *, name: str, plasterers: int, labourers: int, by: Person, now: datetime
) -> Crew:
    """Start another crew."""
    _check(by)
    try:
        with transaction.atomic():
            crew = Crew.objects.create(
                name=name, plasterers=plasterers, labourers=labourers
            )
    except IntegrityError:
        raise Refused(f"There is a crew called {name} already.", "name") from None
    words = f"Crew {name} goes out."
    history.write(about=FIRM, event="crew-added", words=words, now=now, by=by)
    return crew


@transaction.atomic
def give_time_off(
    *, crew: Crew, first_on: date, last_on: date, reason: str, by: Person, now: datetime
) -> TimeOff:
    """Take a crew out of the diary for some days."""
    if not may.book_crews(by):
        raise Refused("Only the office can give a crew time off.")
    if last_on < first_on:
        raise Refused("The last day off is before the first.", "last_on")
    off = TimeOff.objects.create(
        crew=crew, first_on=first_on, last_on=last_on, reason=reason
    )
    history.write(about=FIRM, event="time-off", words=f"{off}.", now=now, by=by)
    return off


@transaction.atomic
def set_figure(
    *, code: str, value: Decimal | None, reason: str, by: Person, now: datetime
) -> None:
    """Use the firm's own figure in place of the trade's, or go back to that."""
    _check(by)
    if value is None:
        FirmFigure.objects.filter(code=code).delete()
        words = f"{code} follows the trade data again."
    else:
        if value < 0:
            raise Refused("A figure of the firm's cannot be below zero.", "value")
        FirmFigure.objects.update_or_create(
            code=code, defaults={"value": value, "reason": reason}
        )
        words = f"{code} is {value.normalize():f} here. {reason}".strip()
    history.write(about=FIRM, event="figure-set", words=words, now=now, by=by)


@transaction.atomic
def set_payee(
    *, account_name: str, sort_code: str, account_number: str, by: Person, now: datetime
) -> Payee:
    """Give the firm's first account.

    A change needs a second person and a day's wait, so that a thief with one
    password cannot send the customers' money elsewhere: it is refused here.
    """
    _check(by)
    if Payee.objects.exists():
        raise Refused(PAYEE_STAYS)
    payee = Payee.objects.create(
        account_name=account_name,
        sort_code=sort_code,
        account_number=account_number,
        active_from_at=now,
    )
    words = f"Customers pay into {payee}."
    history.write(about=FIRM, event="payee-set", words=words, now=now, by=by)
    return payee


def _check(by: Person) -> None:
    if not may.run_the_firm(by):
        raise Refused(ONLY_THE_OWNER)
