"""The diary, the materials and the day notes of a job, for its own page."""

from django.urls import reverse
from django.utils.timezone import localdate

from firm import may
from firm.models import Person
from firm.queries.firm import the_firm
from jobs.engine.slot_words import run_words
from jobs.engine.slots import Half
from jobs.models import Job
from jobs.queries.booking import standing_booking
from jobs.queries.followers import followers_of
from jobs.queries.job_page import Section, register_section
from jobs.queries.materials import needs_of


def register() -> None:
    register_section("diary", 30, diary_section)
    register_section("materials", 40, materials_section)
    register_section("day-notes", 50, notes_section)


def diary_section(job: Job, person: Person) -> Section | None:
    if not may.see_the_diary(person):
        return None
    booking = standing_booking(job)
    may_book = may.book_crews(person)
    context: dict[str, object] = {"booking": booking, "may_book": may_book}
    if booking is not None:
        halves = [Half(row.on, row.half) for row in booking.halves.all()]
        context |= {
            "when": run_words(halves),
            "followers": followers_of(
                job,
                finish_on=booking.last_on,
                counts_clear_days=the_firm().drying_counts_clear_days,
            ),
            "to_ring": list(job.other_trades.exclude(phone="")),
        }
    return Section(
        title="Diary",
        template="jobs/booking/_section.html",
        context=context,
        **_way_on(job, may_book=may_book),
    )


def _way_on(job: Job, *, may_book: bool) -> dict[str, str]:
    words = {Job.Stage.WON: "When?", Job.Stage.BOOKED: "Move it"}
    text = words.get(Job.Stage(job.stage), "")
    if not text or not may_book:
        return {}
    return {"link_text": text, "link_url": reverse("jobs:when", args=[job.pk])}


def materials_section(job: Job, person: Person) -> Section | None:
    if not may.order_materials(person):
        return None
    # Seen from the day it was opened nothing is late: the materials page says that.
    row = needs_of(job, localdate(job.opened_at))
    link = reverse("jobs:order-new", args=[job.pk]) if row.to_order else ""
    return Section(
        title="Materials",
        template="jobs/material/_section.html",
        context={"row": row},
        link_text="Order" if link else "",
        link_url=link,
    )


def notes_section(job: Job, person: Person) -> Section | None:
    if not may.see_customers(person):
        return None
    may_write = may.write_day_notes(person)
    return Section(
        title="Day notes",
        template="jobs/tomorrow/_notes_section.html",
        context={"notes": job.day_notes.select_related("by")},
        link_text="The crew's sheet" if may_write else "",
        link_url=reverse("jobs:sheet", args=[job.pk]) if may_write else "",
    )
