"""Refuse a bill that cannot be drawn, with the field at fault."""

from firm.engine.money import pounds
from firm.engine.refusal import Refused
from invoices.engine.bill_values import Bill

BY_AN_ADVISER = "Draw this one with your accountant."


def check(bill: Bill) -> None:
    """Refuse what is empty, not agreed, not whole pennies, or not worked out here."""
    _check_treatment(bill)
    if not bill.lines and not bill.extras:
        raise Refused("There is nothing to bill. Add a line.", field="lines")
    if bill.terms_days < 0:
        raise Refused("Give days to pay of 0 or more.", field="terms_days")
    for n, line in enumerate(bill.lines):
        if line.net_gbp != pounds(line.net_gbp):
            raise Refused(f"'{line.what}' is not whole pennies.", field=f"lines[{n}]")
    _check_extras(bill)
    _check_deposits(bill)


def _check_treatment(bill: Bill) -> None:
    asked = (
        (bill.is_reverse_charge, "is_reverse_charge", "The reverse charge is"),
        (bill.retention_pct != 0, "retention_pct", "Retention is"),
        (bill.cis_deduction_pct != 0, "cis_deduction_pct", "CIS deduction is"),
    )
    for is_asked, field, what in asked:
        if is_asked:
            raise Refused(f"{what} not worked out here. {BY_AN_ADVISER}", field=field)


def _check_extras(bill: Bill) -> None:
    for n, extra in enumerate(bill.extras):
        if extra.agreed_on is None or extra.agreed_on > bill.issued_on:
            raise Refused(
                f"The customer has not agreed to '{extra.what}'. Get their yes, then "
                "bill it.",
                field=f"extras[{n}].agreed_on",
            )
        if extra.net_gbp != pounds(extra.net_gbp):
            raise Refused(f"'{extra.what}' is not whole pennies.", field=f"extras[{n}]")


def _check_deposits(bill: Bill) -> None:
    for n, deposit in enumerate(bill.deposits):
        path = f"deposits[{n}]"
        gross_gbp = deposit.gross_gbp
        if gross_gbp <= 0 or gross_gbp != pounds(gross_gbp):
            raise Refused("Give a deposit in whole pennies above nothing.", field=path)
        if deposit.received_on > bill.issued_on:
            raise Refused(
                f"The deposit of {deposit.received_on} came after the bill. Enter it "
                "as a payment.",
                field=f"{path}.received_on",
            )
