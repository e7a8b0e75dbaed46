"""Finished jobs, bills and payments, through the actions that the pages call."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

from firm.models import Payee
from invoices.actions.bill import issue_bill
from invoices.actions.payment import enter_payment
from invoices.models import Bill, Payment
from jobs.models import Job
from quotes.models import Acceptance, Quote, QuoteVersion
from tests.making import jobs, people


def payee() -> Payee:
    return Payee.objects.first() or Payee.objects.create(
        account_name="Hawk and Trowel",
        sort_code="00-00-00",
        account_number="12345678",
        active_from_at=jobs.NOW - timedelta(days=100),
    )


def accepted_quote(of: Job, *, net_gbp: str = "865.78") -> QuoteVersion:
    """Return a quote of one line that the customer said yes to."""
    net = Decimal(net_gbp)
    vat = (net / 5).quantize(Decimal("0.01"))
    quote = Quote.objects.create(job=of, number=of.number)
    version = QuoteVersion.objects.create(
        quote=quote,
        version=1,
        state=QuoteVersion.State.ACCEPTED,
        made_at=jobs.NOW,
        sent_at=jobs.NOW,
        valid_until_on=jobs.TODAY,
        snapshot={
            "vat_kind": "standard",
            "rooms": [{"name": "Bedroom", "what": "4 walls", "net_gbp": net_gbp}],
        },
        digest="d" * 64,
        net_gbp=net,
        vat_gbp=vat,
        gross_gbp=net + vat,
    )
    Acceptance.objects.create(
        quote=quote, version=version, digest="d" * 64, typed_name="R", at=jobs.NOW
    )
    return version


def finished_job(*, net_gbp: str = "865.78", **columns: Any) -> Job:
    """Return a job finished today, with a yes to its price."""
    people.firm()
    payee()
    columns.setdefault("finished_on", jobs.TODAY)
    made = jobs.job("done", **columns)
    accepted_quote(made, net_gbp=net_gbp)
    return made


def bill(of: Job | None = None, *, on: date = jobs.TODAY, **columns: Any) -> Bill:
    of = of or finished_job(**columns)
    return issue_bill(of.pk, by=people.office(), today=on, now=jobs.NOW)


def payment(for_bill: Bill, amount_gbp: str, **columns: Any) -> Payment:
    columns.setdefault("received_on", jobs.TODAY)
    columns.setdefault("first_bill_id", for_bill.pk)
    columns.setdefault("form_key", uuid4())
    columns.setdefault("by", people.bookkeeper())
    columns.setdefault("now", jobs.NOW)
    return enter_payment(
        customer_id=for_bill.customer_id,
        amount_gbp=Decimal(amount_gbp),
        method="bank",
        reference="",
        **columns,
    )
