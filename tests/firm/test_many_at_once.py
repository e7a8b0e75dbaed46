"""Many real processes on one database at the same moment, in both homes."""

import multiprocessing
from collections.abc import Callable, Iterator
from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import connections
from django.db.models import Sum

from firm.engine.refusal import Refused
from firm.models import Notice, Paper, Person
from invoices.actions.bill import issue_bill
from invoices.actions.payment import enter_payment, pay_from_account
from invoices.models import Allocation, Bill
from jobs.models import WorkItem
from quotes.actions.acceptance import accept_quote
from quotes.actions.quote import send_quote, write_quote
from quotes.models import Acceptance, QuoteVersion
from tests import make

PROCESSES, BILLS, QUOTES = 8, 100, 8
LATER = make.TODAY + timedelta(days=30)
processes = multiprocessing.get_context("fork")
Work = Callable[[int, Callable[[], None]], Iterator[str]]

pytestmark = [pytest.mark.slow, pytest.mark.django_db(transaction=True)]


def at_once(count: int, work: Work) -> list[str]:
    """Let so many processes work; each may wait for the others. Return what they say.

    A fault in one of them is said as well, by its name, so that no test misses it.
    """
    answers, ready = processes.Queue(), processes.Barrier(count)
    # A connection does not survive being shared by two processes.
    connections.close_all()
    children = [
        processes.Process(target=one, args=(place, work, ready, answers))
        for place in range(count)
    ]
    for child in children:
        child.start()
    said = [words for _ in children for words in answers.get(timeout=300)]
    for child in children:
        child.join(timeout=60)
    assert [child.exitcode for child in children] == [0] * count
    return said


def one(place: int, work: Work, ready, answers) -> None:
    said: list[str] = []
    try:
        said += work(place, lambda: ready.wait(timeout=120))
    except Exception as fault:  # noqa: BLE001 - told to the parent, which fails on it
        said.append(f"{type(fault).__name__}: {fault}")
    finally:
        connections.close_all()
        answers.put(said)


def tried(act: Callable[[], object]) -> str:
    try:
        act()
    except Refused as refusal:
        return str(refusal)
    return "done"


def test_a_hundred_bills_at_once_are_numbered_without_a_gap():
    # Job i asks for 100 + i pounds; VAT at 20 % makes that 120 + 1.2 i.
    jobs = [make.finished_job(net_gbp=f"{100 + i}.00") for i in range(BILLS)]
    office = make.office().pk

    def issue(place: int, wait: Callable[[], None]) -> Iterator[str]:
        by = Person.objects.get(pk=office)
        wait()
        for job in jobs[place::PROCESSES]:
            yield tried(
                lambda job=job: issue_bill(
                    job.pk, by=by, today=make.TODAY, now=make.NOW
                )
            )

    assert at_once(PROCESSES, issue) == ["done"] * BILLS
    bills = Bill.objects.order_by("number")
    assert [bill.number for bill in bills] == list(range(1, BILLS + 1))
    owed = {bill.job_id: bill.payable_gbp for bill in bills}
    assert owed == {
        job.pk: Decimal(120) + i * Decimal("1.2") for i, job in enumerate(jobs)
    }
    assert {bill.snapshot["number"] - bill.number for bill in bills} == {0}
    assert Paper.objects.filter(kind="bill").count() == BILLS
    assert Notice.objects.filter(kind="bill").count() == BILLS


def test_one_job_is_billed_once_whoever_presses():
    job, office = make.finished_job(), make.office().pk

    def issue(_place: int, wait: Callable[[], None]) -> Iterator[str]:
        by = Person.objects.get(pk=office)
        wait()
        yield tried(lambda: issue_bill(job.pk, by=by, today=make.TODAY, now=make.NOW))

    said = at_once(PROCESSES, issue)
    assert said.count("done") == 1
    assert len(set(said)) == 2, said
    assert Bill.objects.get().number == 1


def test_a_yes_meets_a_later_version_and_one_of_them_stands():
    """Two people press yes to version 1 while the office sends version 2."""
    make.office()
    jobs = [make.quotable_job()]
    for _ in range(QUOTES - 1):
        jobs.append(make.job("looked"))
        make.look_w1(jobs[-1])
    first = [sent(job.pk, make.office()) for job in jobs]

    def press(place: int, wait: Callable[[], None]) -> Iterator[str]:
        by = Person.objects.get(role="office")
        for version in first:
            wait()
            if place == 2:
                yield tried(lambda v=version: sent(v.quote.job_id, by))
            else:
                yield tried(lambda v=version: yes(v))

    said = at_once(3, press)
    assert not [words for words in said if "Error" in words]
    for version in first:
        assert_one_stands(version)


def sent(job_id: int, by: Person) -> QuoteVersion:
    written = write_quote(
        job_id, vat_kind="standard", by=by, today=make.TODAY, now=make.NOW
    )
    return send_quote(
        written.pk, valid_until_on=LATER, by=by, today=make.TODAY, now=make.NOW
    )


def yes(version: QuoteVersion) -> None:
    accept_quote(
        version.pk,
        digest=version.digest,
        typed_name="Rosa Reed",
        asks_early_start=False,
        from_address=None,
        today=make.TODAY,
        now=make.NOW,
    )


def assert_one_stands(first: QuoteVersion) -> None:
    standing = QuoteVersion.objects.get(
        quote=first.quote, state__in=["sent", "accepted"]
    )
    job = standing.quote.job
    accepted = Acceptance.objects.filter(quote=first.quote).first()
    if accepted is None:
        assert (standing.version, standing.state, job.stage) == (2, "sent", "quoted")
        assert not WorkItem.objects.filter(job=job).exists()
    else:
        assert (standing.pk, standing.state) == (first.pk, "accepted")
        assert accepted.digest == first.digest
        assert job.stage == "won"
        positions = [item.position for item in job.work_items.all()]
        assert positions == sorted(set(positions)), "the work was handed down twice"


def test_a_draft_is_not_sent_over_a_yes_that_came_first():
    job, office = make.quotable_job(), make.office()
    first = sent(job.pk, office)
    draft = write_quote(
        job.pk, vat_kind="standard", by=office, today=make.TODAY, now=make.NOW
    )
    yes(first)
    with pytest.raises(Refused, match="has been accepted"):
        send_quote(
            draft.pk, valid_until_on=LATER, by=office, today=make.TODAY, now=make.NOW
        )
    assert_one_stands(first)


def test_a_payment_pays_no_more_than_it_holds_however_many_share_it():
    customer = make.customer()
    books = make.bookkeeper()
    enter_payment(
        customer_id=customer.pk,
        amount_gbp=Decimal("100.00"),
        received_on=make.TODAY,
        method="bank",
        reference="",
        first_bill_id=None,
        form_key=uuid4(),
        by=books,
        now=make.NOW,
    )
    # 50 and 20 % VAT: eight bills of 60, of which 100 pays one and most of another.
    bills = [make.bill(net_gbp="50.00") for _ in range(PROCESSES)]
    assert {bill.customer_id for bill in bills} == {customer.pk}

    def pay(place: int, wait: Callable[[], None]) -> Iterator[str]:
        by = Person.objects.get(role="books")
        wait()
        yield tried(lambda: pay_from_account(bills[place].pk, by=by, now=make.NOW))

    said = at_once(PROCESSES, pay)
    assert not [words for words in said if "Error" in words]
    assert "done" in said
    paid = Allocation.objects.aggregate(Sum("amount_gbp"))["amount_gbp__sum"]
    assert Decimal(60) <= paid <= Decimal(100)
    assert max(Allocation.objects.values_list("amount_gbp", flat=True)) <= Decimal(60)
    assert said.count("done") == Allocation.objects.count()
