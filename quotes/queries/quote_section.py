from django.urls import reverse

from firm import may
from firm.models import Person
from jobs.models import Job
from jobs.queries.job_page import Section
from quotes.queries.quote import acceptance_of, versions_of


def quote_section(job: Job, person: Person) -> Section | None:
    """Say on the job's page how far the quote has come."""
    if not may.see_prices(person):
        return None
    newest = versions_of(job).first()
    link_text = "Open the quote" if newest else "Work the quote out"
    return Section(
        title="Quote",
        template="quotes/quote/_section.html",
        context={"newest": newest, "acceptance": acceptance_of(job)},
        link_text=link_text if newest or may.send_quotes(person) else "",
        link_url=reverse("quotes:quote", args=[job.pk]),
    )
