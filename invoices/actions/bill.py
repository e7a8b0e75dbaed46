"""Issue a bill: numbered, frozen, printed and sent in one transaction."""

from datetime import date, datetime, timedelta
from typing import Any

from django.db import transaction

from firm import may
from firm.actions import history, links, papers, tray
from firm.actions.numbers import take_number
from firm.engine.refusal import Refused
from firm.models import Payee, Person
from firm.queries.firm import payee_at, the_firm
from firm.templatetags.figures import pounds
from invoices.engine.bill import DrawnBill
from invoices.models import Bill, BillLine
from invoices.queries.drawn import drawn_bill
from jobs.models import Job

ONLY_THE_OFFICE = "Only the office can issue a bill."
OUTSIDE_VAT = "O"
LINK_OPENS_FOR = timedelta(days=400)

LETTER = """Dear {customer},

the work at {site} is finished: thank you. Our bill {number} comes to {payable} and is
due on {due}.

Read it, and how to pay, here:
{link}

It is attached as a paper as well. The account is on the paper and on that page, never
in a letter. If anybody asks you to pay into another account, ring us first on the
number you have always had.

{firm}
"""


@transaction.atomic
def issue_bill(job_id: int, *, by: Person, today: date, now: datetime) -> Bill:
    """Bill a finished job. From here on the bill never changes."""
    if not may.issue_bills(by):
        raise Refused(ONLY_THE_OFFICE)
    jobs = Job.objects.with_people().select_for_update(of=("self",))
    job = jobs.filter(pk=job_id).first()
    if job is None:
        raise Refused("There is no such job.")
    drawn = drawn_bill(job, today=today)
    bill = _write(job, drawn, payee=payee_at(now), now=now)
    _issue(bill, job, drawn, today=today, now=now)
    if job.customer.email:
        _mail(bill, job, now=now)
    words = f"{bill} issued: £{bill.payable_gbp:,.2f}, due {bill.due_on:%-d %B %Y}."
    history.write(
        about=("job", job.pk), event="bill-issued", words=words, now=now, by=by
    )
    return bill


def _write(job: Job, drawn: DrawnBill, *, payee: Payee, now: datetime) -> Bill:
    bill = Bill.objects.create(
        job=job,
        customer=job.customer,
        payee=payee,
        made_at=now,
        net_gbp=drawn.net_gbp,
        vat_gbp=drawn.vat_gbp,
        gross_gbp=drawn.gross_gbp,
        payable_gbp=drawn.payable_gbp,
        snapshot={},
    )
    BillLine.objects.bulk_create(
        BillLine(
            bill=bill,
            position=position,
            words=line.what,
            net_gbp=line.net_gbp,
            vat_rate_pct=line.rate_pct,
        )
        for position, line in enumerate(drawn.lines, start=1)
    )
    return bill


def _issue(
    bill: Bill, job: Job, drawn: DrawnBill, *, today: date, now: datetime
) -> None:
    # The number comes last, so that its row is locked for as short as can be.
    bill.number = take_number("bill")
    bill.state, bill.issued_on = Bill.State.ISSUED, today
    bill.tax_point_on = drawn.tax_points[-1].on if drawn.tax_points else today
    bill.due_on = drawn.due_on
    bill.snapshot = snapshot_of(bill, job, drawn)
    bill.paper = papers.want_paper(
        kind="bill",
        about=("bill", bill.pk),
        snapshot=bill.snapshot,
        title=f"Bill {bill.number}",
        now=now,
    )
    bill.save()


def snapshot_of(bill: Bill, job: Job, drawn: DrawnBill) -> dict[str, Any]:
    """Return everything that the page and the paper show, as plain text."""
    return {
        "number": bill.number,
        "issued_on": str(bill.issued_on),
        "due_on": str(bill.due_on),
        "done_on": str(job.finished_on),
        **_parties(job, bill.payee),
        **_sums(drawn),
    }


def _parties(job: Job, payee: Payee) -> dict[str, Any]:
    firm, customer, site = the_firm(), job.customer, job.site
    return {
        "firm": {
            "name": firm.name,
            "address": firm.address,
            "postcode": firm.postcode,
            "phone": firm.phone,
            "email": firm.email,
            "vat_number": firm.vat_number if firm.is_vat_registered else "",
        },
        "customer": {
            "name": customer.name,
            "address": customer.address or site.address,
            "postcode": customer.postcode or site.postcode,
        },
        "site": {"address": site.address, "postcode": site.postcode},
        "job": {"number": job.number, "what": job.what},
        "payee": {
            "account_name": payee.account_name,
            "sort_code": payee.sort_code,
            "account_number": payee.account_number,
        },
    }


def _sums(drawn: DrawnBill) -> dict[str, Any]:
    return {
        "lines": [
            {
                "what": line.what,
                "net_gbp": str(line.net_gbp),
                "rate_pct": str(line.rate_pct),
            }
            for line in drawn.lines
        ],
        "vat": [
            {
                "rate_pct": str(group.rate_pct),
                "net_gbp": str(group.net_gbp),
                "vat_gbp": str(group.vat_gbp),
                "why": group.why,
            }
            for group in drawn.vat
            if group.category != OUTSIDE_VAT
        ],
        "tax_points": [
            {"on": str(point.on), "why": point.why} for point in drawn.tax_points
        ],
        "wording": list(drawn.wording),
        "totals": {term: str(value) for term, value in drawn.totals.items()},
        "net_gbp": str(drawn.net_gbp),
        "vat_gbp": str(drawn.vat_gbp),
        "gross_gbp": str(drawn.gross_gbp),
        "payable_gbp": str(drawn.payable_gbp),
        "working": list(drawn.working),
    }


def _mail(bill: Bill, job: Job, *, now: datetime) -> None:
    link = links.make_link(
        purpose="bill", about_id=bill.pk, expires_at=now + LINK_OPENS_FOR, now=now
    )
    shot = bill.snapshot
    tray.leave_notice(
        key=f"bill:{bill.pk}",
        kind="bill",
        to_name=job.customer.name,
        to_address=job.customer.email,
        subject=f"Bill {bill.number} for {job.what}",
        text=LETTER.format(
            customer=job.customer.name,
            site=shot["site"]["address"].splitlines()[0],
            number=bill.number,
            payable=pounds(bill.payable_gbp),
            due=f"{bill.due_on:%-d %B %Y}",
            link=link,
            firm=shot["firm"]["name"],
        ),
        about=("bill", bill.pk),
        due_at=now,
        now=now,
        job_id=job.pk,
        paper_id=bill.paper_id,
    )
