from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from invoices.engine.allocation import OpenBill, Part, Payment, allocate


def owed(number, balance_gbp, on=date(2026, 11, 2)):
    return OpenBill(number=number, due_on=on, balance_gbp=Decimal(balance_gbp))


def part(number, gbp):
    return Part(number=number, gbp=Decimal(gbp))


OLD, NEW = owed("old", "50.00", date(2026, 10, 5)), owed("new", "60.00")


# By hand: 80 pays the 50 of October whole and 30 of November's 60.
def test_the_oldest_bill_is_paid_first():
    answer = allocate(Payment(gbp=Decimal(80), bills=(NEW, OLD)))
    assert answer.parts == (part("old", "50.00"), part("new", "30.00"))
    assert answer.left_gbp == 0


def test_too_much_money_waits_on_account():
    answer = allocate(Payment(gbp=Decimal(120), bills=(NEW, OLD)))
    assert answer.left_gbp == Decimal("10.00")
    assert "left on account" in answer.working[-1]


def test_what_the_payer_said_binds_and_the_rest_waits():
    told = (part("new", "60.00"),)
    answer = allocate(Payment(gbp=Decimal(80), bills=(NEW, OLD), told=told))
    assert answer.parts == told
    assert answer.left_gbp == Decimal(20)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"gbp": Decimal(0)}, "gbp"),
        ({"gbp": Decimal("0.001")}, "gbp"),
        ({"bills": (OLD, OLD)}, "bills[1].number"),
        ({"bills": (owed("x", "-1"),)}, "bills[0].balance_gbp"),
        ({"told": (part("none", "1"),)}, "told[0]"),
        ({"told": (part("old", "0"),)}, "told[0]"),
        ({"told": (part("old", "50.01"),)}, "told[0]"),
        ({"told": (part("old", "30"), part("old", "30"))}, "told[1]"),
        ({"told": (part("old", "50"), part("new", "31"))}, "told[1]"),
    ],
)
def test_a_payment_that_cannot_be_laid_out_is_refused(changes, field):
    sound = Payment(gbp=Decimal(80), bills=(OLD, NEW))
    assert allocate(sound).parts
    with pytest.raises(Refused) as refusal:
        allocate(replace(sound, **changes))
    assert refusal.value.field == field
    assert str(refusal.value).endswith(".")


pennies = st.decimals("0.01", "9999", places=2)


@given(pennies, st.lists(pennies, max_size=10))
def test_never_more_than_the_payment_nor_any_bill(gbp, balances):
    start = date(2026, 1, 1)
    bills = tuple(
        owed(str(n), balance, start + timedelta(days=n))
        for n, balance in enumerate(balances)
    )
    answer = allocate(Payment(gbp=gbp, bills=bills))
    owing = {bill.number: bill.balance_gbp for bill in bills}
    assert sum(each.gbp for each in answer.parts) + answer.left_gbp == gbp
    assert answer.left_gbp >= 0
    assert all(0 < each.gbp <= owing[each.number] for each in answer.parts)
    full = [each for each in answer.parts if each.gbp == owing[each.number]]
    assert len(full) >= len(answer.parts) - 1
