"""A bill is right the first time, numbered without gaps, and never changes."""

from datetime import date, timedelta
from decimal import Decimal
from io import BytesIO

import pytest
from django.db import DatabaseError, connection, transaction
from pypdf import PdfReader

from firm.actions.papers import press_for
from firm.engine.refusal import Refused
from firm.models import Firm, Notice, NumberSeries
from invoices.actions.bill import issue_bill
from invoices.models import Bill, BillLine
from jobs.models import Job
from tests import make

pytestmark = pytest.mark.django_db
NOW, TODAY = make.NOW, make.TODAY


def test_the_bill_is_what_was_agreed_with_vat_on_the_sum():
    """865.78 at 20 % is 173.156, half a penny up 173.16 (HMRC VATREC12030)."""
    bill = make.bill()
    assert (bill.net_gbp, bill.vat_gbp) == (Decimal("865.78"), Decimal("173.16"))
    assert bill.payable_gbp == Decimal("1038.94")
    assert bill.due_on == TODAY + timedelta(days=14)


def test_finished_and_billed_the_same_day_is_the_tax_point_of_that_day():
    assert make.bill().tax_point_on == TODAY


def test_billed_on_the_fifteenth_day_goes_back_to_the_day_it_was_done():
    """VATA 1994 s.6(5): within 14 days; checks: 2 Nov 2026 and 16 or 17 Nov."""
    done = date(2026, 11, 2)
    within = make.bill(make.finished_job(finished_on=done), on=date(2026, 11, 16))
    late = make.bill(make.finished_job(finished_on=done), on=date(2026, 11, 17))
    assert within.tax_point_on == date(2026, 11, 16)
    assert late.tax_point_on == done


def test_an_unfinished_job_is_not_billed():
    job = make.finished_job()
    Job.objects.filter(pk=job.pk).update(stage="won", finished_on=None)
    with pytest.raises(Refused, match="not finished yet"):
        make.bill(job)
    assert not Bill.objects.exists()


def test_a_job_is_billed_once():
    bill = make.bill()
    with pytest.raises(Refused, match="has been billed: Bill 1"):
        make.bill(bill.job)
    assert Bill.objects.count() == 1


@pytest.mark.parametrize("role", ["books", "crew", "lead"])
def test_only_the_office_issues(role):
    job = make.finished_job()
    with pytest.raises(Refused, match="Only the office"):
        issue_bill(job.pk, by=make.person(role), today=TODAY, now=NOW)
    assert not Bill.objects.exists()


def test_a_bill_that_fails_gives_its_number_back():
    first = make.finished_job()
    with transaction.atomic():
        make.bill(first)
        transaction.set_rollback(True)
    assert make.bill(first).number == 1
    assert NumberSeries.objects.get(name="bill").next_number == 2


def test_an_unregistered_firm_charges_no_vat_and_shows_no_number():
    job = make.finished_job()
    Firm.objects.update(is_vat_registered=False, vat_number="")
    bill = make.bill(job)
    assert bill.payable_gbp == Decimal("865.78")
    assert bill.snapshot["vat"] == []
    assert bill.snapshot["firm"]["vat_number"] == ""


def test_the_letter_carries_the_paper_and_never_the_account():
    bill = make.bill()
    letter = Notice.objects.get(kind="bill")
    assert letter.paper_id == bill.paper_id
    assert "12345678" not in letter.text
    assert "00-00-00" not in letter.text


def test_the_paper_is_a_full_vat_invoice():
    """VAT Regulations 1995 reg 14(1): the particulars a bill must show."""
    bill = make.bill()
    pages = PdfReader(BytesIO(press_for("bill")(bill.snapshot)))
    text = " ".join(page.extract_text() for page in pages.pages)
    for particular in (
        "VAT invoice: Bill 1",
        "GB999999973",
        "Hawk and Trowel",
        bill.customer.name,
        "4 Mar 2026",
        "Bedroom: 4 walls",
        "865.78",
        "173.16",
        "1,038.94",
        "20%",
    ):
        assert particular in text
    assert pages.metadata.title == "Bill 1"


@pytest.mark.parametrize(
    "change",
    [
        lambda bill: Bill.objects.filter(pk=bill.pk).update(net_gbp=1, vat_gbp=0),
        lambda bill: Bill.objects.filter(pk=bill.pk).update(number=99),
        lambda bill: Bill.objects.filter(pk=bill.pk).update(state="draft", number=None),
        lambda bill: Bill.objects.bulk_update([_other_payee(bill)], ["due_on"]),
        lambda bill: bill.delete(),
        lambda bill: bill.lines.all().delete(),
        lambda bill: bill.lines.update(net_gbp=1),
        lambda bill: BillLine.objects.create(
            bill=bill, position=9, words="more", net_gbp=1, vat_rate_pct=20
        ),
        lambda bill: _raw("UPDATE invoices_bill SET payable_gbp = 1"),
        lambda bill: _raw("DELETE FROM invoices_billline"),
    ],
)
def test_the_database_refuses_every_change_to_an_issued_bill(change):
    bill = make.bill()
    with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
        change(bill)
    bill.refresh_from_db()
    assert (bill.number, bill.payable_gbp) == (1, Decimal("1038.94"))
    assert bill.lines.get().net_gbp == Decimal("865.78")


def _other_payee(bill):
    bill.due_on = TODAY
    return bill


def _raw(sql):
    with connection.cursor() as cursor:
        cursor.execute(sql)
