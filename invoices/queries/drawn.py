"""Draw the bill of a finished job from what the customer agreed to."""

from datetime import date
from decimal import Decimal

from firm.engine.refusal import Refused
from firm.models import Firm
from firm.queries.firm import the_firm
from invoices.engine.bill import Bill as Question
from invoices.engine.bill import ContractLine, DrawnBill, draw_bill
from invoices.models import Bill
from jobs.models import Job
from quotes.models import QuoteVersion
from quotes.queries.quote import accepted_version

NOT_FINISHED = "The job is not finished yet. Press finished first."
NO_YES = "Nobody has said yes to a quote for this job, so there is no price to bill."


def drawn_bill(job: Job, *, today: date) -> DrawnBill:
    """Return what would be billed today, with its working."""
    if job.finished_on is None:
        raise Refused(NOT_FINISHED)
    billed = Bill.objects.issued().filter(job=job).first()
    if billed is not None:
        raise Refused(f"This job has been billed: {billed}.")
    version = accepted_version(job.pk)
    if version is None:
        raise Refused(NO_YES)
    return draw_bill(question_for(version, job=job, firm=the_firm(), today=today))


def question_for(
    version: QuoteVersion, *, job: Job, firm: Firm, today: date
) -> Question:
    shot = version.snapshot
    return Question(
        lines=tuple(
            ContractLine(
                what=f"{room['name']}: {room['what']}",
                net_gbp=Decimal(room["net_gbp"]),
                vat_kind=shot["vat_kind"],
            )
            for room in shot["rooms"]
        ),
        issued_on=today,
        completed_on=job.finished_on,
        terms_days=firm.payment_days,
        is_vat_registered=firm.is_vat_registered,
    )
