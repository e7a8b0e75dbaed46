"""What the page of a job says of its look."""

from django.urls import reverse

from firm import may
from firm.models import Person
from jobs.models import Job
from jobs.queries.job_page import Section
from quotes.models import Look
from quotes.queries.sheet import look_sheet


def look_section(job: Job, person: Person) -> Section | None:
    if not may.look_at_jobs(person):
        return None
    look = Look.objects.filter(job=job).first()
    sheet = look_sheet(look) if look else None
    return Section(
        title="The look",
        template="quotes/look/_job_section.html",
        context={"sheet": sheet},
        link_text="Open the look" if look else "Start the look",
        link_url=reverse("quotes:look", args=[job.pk]),
    )
