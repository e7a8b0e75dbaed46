"""Money that came in pays bills, never more than there is, and is never edited."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import DatabaseError, transaction

from firm.engine.refusal import Refused
from firm.models import Notice
from invoices.actions.payment import pay_from_account, take_back_payment
from invoices.models import Allocation, Bill, Payment
from invoices.queries.bill import on_account_gbp
from tests import make

pytestmark = pytest.mark.django_db
NOW, TODAY = make.NOW, make.TODAY


def owed(bill: Bill) -> Decimal:
    return Bill.objects.with_balance().get(pk=bill.pk).owed_gbp


def test_a_payment_in_full_pays_the_bill():
    bill = make.bill()
    make.payment(bill, "1038.94")
    assert owed(bill) == 0
    assert not Bill.objects.unpaid().exists()


def test_three_thirds_pay_a_bill_to_the_penny():
    bill = make.bill(net_gbp="83.33")
    assert bill.payable_gbp == Decimal("100.00")
    for part in ("33.33", "33.33", "33.34"):
        make.payment(bill, part)
    assert not Bill.objects.unpaid().exists()


def test_what_is_over_waits_on_account_and_pays_the_next_bill():
    bill = make.bill()
    make.payment(bill, "1100.00")
    assert on_account_gbp(bill.customer_id) == Decimal("61.06")
    later = make.bill(make.finished_job(of=bill.customer))
    pay_from_account(later.pk, by=make.bookkeeper(), now=NOW)
    assert owed(later) == Decimal("977.88")
    assert on_account_gbp(bill.customer_id) == 0


def test_without_a_named_bill_the_oldest_is_paid_first():
    older = make.bill(on=TODAY - timedelta(days=9), net_gbp="100.00")
    newer = make.bill(make.finished_job(of=older.customer, net_gbp="100.00"))
    make.payment(newer, "150.00", first_bill_id=None)
    assert (owed(older), owed(newer)) == (0, Decimal("90.00"))


def test_pressing_twice_enters_one_payment():
    bill, key = make.bill(), uuid4()
    for _ in range(2):
        make.payment(bill, "500.00", form_key=key)
    assert Payment.objects.count() == 1
    assert owed(bill) == Decimal("538.94")


def test_money_from_tomorrow_is_refused():
    bill = make.bill()
    with pytest.raises(Refused, match="after today"):
        make.payment(bill, "10.00", received_on=TODAY + timedelta(days=1))
    assert not Payment.objects.exists()


@pytest.mark.parametrize("role", ["crew", "lead"])
def test_the_crew_enters_no_payments(role):
    bill = make.bill()
    with pytest.raises(Refused, match="Only the office or the bookkeeper"):
        make.payment(bill, "10.00", by=make.person(role))


def test_a_payment_taken_back_leaves_the_bill_owed_again():
    bill = make.bill()
    payment = make.payment(bill, "1038.94")
    take_back_payment(payment.pk, because="It bounced.", by=make.bookkeeper(), now=NOW)
    assert owed(bill) == Decimal("1038.94")
    make.payment(bill, "1038.94")
    assert owed(bill) == 0


def test_a_payment_is_taken_back_once():
    payment = make.payment(make.bill(), "10.00")
    take_back_payment(payment.pk, because="Bounced.", by=make.bookkeeper(), now=NOW)
    with pytest.raises(Refused, match="taken back already"):
        take_back_payment(payment.pk, because="Again.", by=make.bookkeeper(), now=NOW)


def test_paying_stops_the_letters_about_the_bill():
    bill = make.bill()
    make.payment(bill, "1038.94")
    assert Notice.objects.get(kind="bill").state == "stopped"


def test_the_database_allocates_no_more_than_the_payment_holds():
    one = make.bill()
    other = make.bill(make.finished_job(of=one.customer))
    payment = make.payment(one, "500.00")
    with pytest.raises(DatabaseError, match="payment holds"), transaction.atomic():
        Allocation.objects.create(payment=payment, bill=other, amount_gbp=1)


def test_the_database_allocates_no_more_than_the_bill_asks():
    bill = make.bill()
    make.payment(bill, "1038.94")
    spare = make.payment(make.bill(make.finished_job(net_gbp="1.00")), "5.00")
    with pytest.raises(DatabaseError, match="bill asks"), transaction.atomic():
        Allocation.objects.create(payment=spare, bill=bill, amount_gbp=1)


def test_the_database_lets_nobody_edit_a_payment():
    payment = make.payment(make.bill(), "5.00")
    with pytest.raises(DatabaseError, match="never edited"), transaction.atomic():
        Payment.objects.filter(pk=payment.pk).update(amount_gbp=9999)
