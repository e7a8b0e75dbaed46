"""Lay a payment over open bills: oldest first, or as the payer said.

A payment and the open balances come in; what each bill is paid, and what is left on
account, go out. Nothing is guessed about which customer paid.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from firm.engine.money import pounds
from firm.engine.refusal import Refused


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenBill:
    """A bill with something still to pay."""

    number: str
    due_on: date
    balance_gbp: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """So much of a payment for one bill."""

    number: str
    gbp: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Payment:
    """The question: the money, the open bills, and what the payer said it is for."""

    gbp: Decimal
    bills: tuple[OpenBill, ...]
    told: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Allocated:
    """The answer: a part for each bill that gets any, and what is left over."""

    parts: tuple[Part, ...]
    left_gbp: Decimal
    working: tuple[str, ...]


def allocate(payment: Payment) -> Allocated:
    """Pay the oldest bill first, unless the payer said which ones the money is for.

    What the payer says binds: the rest then waits on account and is not moved to a bill
    they did not name.

    >>> new = OpenBill(number="7", due_on=date(2026, 11, 2), balance_gbp=Decimal(60))
    >>> old = OpenBill(number="5", due_on=date(2026, 10, 5), balance_gbp=Decimal(50))
    >>> paid = allocate(Payment(gbp=Decimal(80), bills=(new, old)))
    >>> [(part.number, part.gbp) for part in paid.parts]
    [('5', Decimal('50')), ('7', Decimal('30'))]
    """
    _check(payment)
    parts = payment.told or tuple(_oldest_first(payment))
    left_gbp = payment.gbp - sum((part.gbp for part in parts), Decimal(0))
    said = "as told" if payment.told else "oldest first"
    working = [f"£{part.gbp} for {part.number}, {said}." for part in parts]
    if left_gbp:
        working.append(f"£{left_gbp} is left on account.")
    return Allocated(parts=parts, left_gbp=left_gbp, working=tuple(working))


def _oldest_first(payment: Payment) -> list[Part]:
    left_gbp, parts = payment.gbp, []
    for bill in sorted(payment.bills, key=lambda bill: (bill.due_on, bill.number)):
        paid_gbp = min(left_gbp, bill.balance_gbp)
        if paid_gbp:
            parts.append(Part(number=bill.number, gbp=paid_gbp))
        left_gbp -= paid_gbp
    return parts


def _check(payment: Payment) -> None:
    if payment.gbp <= 0 or payment.gbp != pounds(payment.gbp):
        raise Refused("Give a payment in whole pennies above nothing.", field="gbp")
    balances: dict[str, Decimal] = {}
    for n, bill in enumerate(payment.bills):
        if bill.balance_gbp < 0 or bill.balance_gbp != pounds(bill.balance_gbp):
            raise Refused(
                f"Bill {bill.number} needs a balance in whole pennies.",
                field=f"bills[{n}].balance_gbp",
            )
        if bill.number in balances:
            raise Refused(
                f"Bill {bill.number} is named twice.", field=f"bills[{n}].number"
            )
        balances[bill.number] = bill.balance_gbp
    _check_told(payment, balances)


def _check_told(payment: Payment, balances: dict[str, Decimal]) -> None:
    left_gbp = payment.gbp
    for n, part in enumerate(payment.told):
        path = f"told[{n}]"
        if part.number not in balances:
            raise Refused(f"There is no open bill {part.number}.", field=path)
        if part.gbp <= 0 or part.gbp != pounds(part.gbp):
            raise Refused("Give each part in whole pennies above nothing.", field=path)
        if part.gbp > balances[part.number]:
            raise Refused(
                f"Bill {part.number} has only £{balances[part.number]} to pay, not "
                f"£{part.gbp}.",
                field=path,
            )
        left_gbp -= part.gbp
        balances[part.number] -= part.gbp
        if left_gbp < 0:
            raise Refused(
                f"The parts add up to more than the payment of £{payment.gbp}.",
                field=path,
            )
