from django.urls import reverse

from firm import may
from firm.models import Person
from invoices.queries.bill import bills_of
from jobs.models import Job
from jobs.queries.job_page import Section


def bill_section(job: Job, person: Person) -> Section | None:
    """Say on the job's page what was billed and what is owed."""
    if not may.see_money(person):
        return None
    bills = list(bills_of(job))
    may_bill = may.issue_bills(person) and job.finished_on is not None and not bills
    return Section(
        title="Bill",
        template="invoices/bill/_section.html",
        context={"bills": bills},
        link_text="Bill this job" if may_bill else "",
        link_url=reverse("invoices:bill-new", args=[job.pk]) if may_bill else "",
    )
