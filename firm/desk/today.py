"""What needs doing now, worked out from the facts, for each person something else.

Nothing here is a list that somebody keeps: a line is on the page because the facts
put it there, and goes the moment they change.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import islice

from django.urls import reverse

from firm import may
from firm.engine.working_days import WorkingDays, england_bank_holidays
from firm.models import Notice, Person
from firm.queries import tray
from firm.templatetags.figures import clock, day, pounds, short_day
from invoices.models import Bill
from invoices.queries.bill import finished_not_billed, standing_hold, unpaid_bills
from jobs.models import Job
from jobs.queries.booking import won_not_booked
from jobs.queries.enquiry import enquiries_waiting
from jobs.queries.materials import drops_due, orders_to_place
from jobs.queries.tomorrow import crews_on, next_working_day, not_finished_past
from jobs.queries.visit import visits_between, visits_not_closed
from quotes.queries.quote import quotes_out

MOST_LINES = 8
SILENT_AFTER = timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing to do: what, a word on it, and where it is done."""

    words: str
    url: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A few lines of one kind; `more` are those that did not fit."""

    title: str
    lines: tuple[Line, ...]
    more: int = 0
    more_url: str = ""


def pieces_for(person: Person, *, today: date) -> list[Piece]:
    """Return what needs this person, most pressing first, without empty pieces."""
    made = (
        _piece(title, list(lines(today)), url)
        for title, right, lines, url in PIECES
        if right(person)
    )
    return [piece for piece in made if piece.lines]


def _piece(title: str, lines: list[Line], url: str) -> Piece:
    return Piece(
        title=title,
        lines=tuple(islice(lines, MOST_LINES)),
        more=max(0, len(lines) - MOST_LINES),
        more_url=reverse(url),
    )


def _letters_to_decide(_: date) -> Iterator[Line]:
    for letter in tray.stuck():
        url = reverse("firm:letter", args=[letter.pk])
        unsure = letter.state == Notice.State.UNSURE
        note = "may have arrived" if unsure else "was refused"
        yield Line(words=f"{letter.subject}, to {letter.to_name}", url=url, note=note)


def _visits_today(today: date) -> Iterator[Line]:
    for visit in visits_between(today, today):
        yield Line(
            words=f"{clock(visit.at)} {visit.job.customer}, {visit.job.site}",
            url=visit.job.get_absolute_url(),
            note=visit.person.name,
        )


def _visits_to_close(today: date) -> Iterator[Line]:
    for visit in visits_not_closed(today):
        yield _job_line(visit.job, f"the visit was {short_day(visit.on)}")


def _rang_in(today: date) -> Iterator[Line]:
    for waiting in enquiries_waiting(today):
        if waiting.job.stage == Job.Stage.ENQUIRY:
            yield _job_line(waiting.job, _ago(waiting.days, "rang"))


def _to_quote(today: date) -> Iterator[Line]:
    for waiting in enquiries_waiting(today):
        if waiting.job.stage == Job.Stage.LOOKED:
            yield _job_line(waiting.job, _ago(waiting.days, "rang"))


def _silent_quotes(today: date) -> Iterator[Line]:
    for version in quotes_out(today):
        silent = today - version.sent_at.date() if version.sent_at else timedelta()
        if silent >= SILENT_AFTER:
            url = reverse("quotes:quote", args=[version.quote.job_id])
            words = f"{version.quote.job.customer}: {version.quote.job.what}"
            note = f"{pounds(version.gross_gbp)}, {_ago(silent.days, 'sent')}"
            yield Line(words=words, url=url, note=note)


def _to_book(_: date) -> Iterator[Line]:
    for job in won_not_booked():
        url = reverse("jobs:when", args=[job.pk])
        yield Line(words=f"{job.customer}: {job.what}", url=url, note="said yes")


def _to_order(today: date) -> Iterator[Line]:
    for needs in orders_to_place(today):
        url = reverse("jobs:order-new", args=[needs.job.pk])
        note = f"needed {short_day(needs.needed_on)}, order today"
        yield Line(words=str(needs.job), url=url, note=note)


def _drops(today: date) -> Iterator[Line]:
    for order in drops_due(today):
        note = f"due {short_day(order.wanted_on)}"
        yield Line(words=f"{order}, {order.job.site}", url=_url(order), note=note)


def _not_finished(today: date) -> Iterator[Line]:
    for job in not_finished_past(today):
        yield _job_line(job, "its last day has gone by: is it finished?")


def _to_bill(_: date) -> Iterator[Line]:
    for job in finished_not_billed():
        url = reverse("invoices:bill-new", args=[job.pk])
        note = f"finished {short_day(job.finished_on)}"
        yield Line(words=f"{job.customer}: {job.what}", url=url, note=note)


def _late_bills(today: date) -> Iterator[Line]:
    for bill in unpaid_bills():
        if bill.falls_due_on < today:
            yield Line(
                words=f"{bill}, {bill.customer}",
                url=bill.get_absolute_url(),
                note=_late_words(bill, today),
            )


def _late_words(bill: Bill, today: date) -> str:
    days = (today - bill.falls_due_on).days
    held = standing_hold(bill)
    state = held.get_kind_display().lower() if held else f"{_days(days)} late"
    return f"{pounds(bill.owed_gbp)}, {state}"


def _crews(today: date) -> Iterator[Line]:
    for on, when in ((today, "today"), (next_working_day(today), "next")):
        for crew, entries in crews_on(on):
            for entry in entries:
                url = reverse("jobs:sheet", args=[entry.job_id])
                words = f"{crew}: {entry.place}"
                yield Line(words=words, url=url, note=f"{_on(on, when)}, {entry.part}")


def _on(on: date, when: str) -> str:
    return when if when == "today" else short_day(on)


def _job_line(job: Job, note: str) -> Line:
    words = f"{job.customer}: {job.what}"
    return Line(words=words, url=job.get_absolute_url(), note=note)


def _url(thing: object) -> str:
    return thing.get_absolute_url()  # type: ignore[attr-defined]  # ours


def _ago(days: int, verb: str) -> str:
    return f"{verb} today" if days <= 0 else f"{verb} {_days(days)} ago"


def _days(days: int) -> str:
    return "a day" if days == 1 else f"{days} days"


Lines = Callable[[date], Iterable[Line]]
PIECES: tuple[tuple[str, may.Right, Lines, str], ...] = (
    (
        "Letters that need a decision",
        may.work_the_tray,
        _letters_to_decide,
        "firm:tray",
    ),
    ("Visits today", may.take_enquiries, _visits_today, "jobs:enquiries"),
    ("Visited: what was seen?", may.take_enquiries, _visits_to_close, "jobs:enquiries"),
    ("Rang in, no visit yet", may.take_enquiries, _rang_in, "jobs:enquiries"),
    ("Looked at, to be quoted", may.send_quotes, _to_quote, "jobs:enquiries"),
    ("Quotes that went quiet", may.send_quotes, _silent_quotes, "jobs:jobs"),
    ("Said yes: when?", may.book_crews, _to_book, "jobs:diary"),
    ("Order today", may.order_materials, _to_order, "jobs:materials"),
    ("Drops to tick off", may.order_materials, _drops, "jobs:materials"),
    ("Past their last day", may.finish_jobs, _not_finished, "jobs:diary"),
    ("Finished, to be billed", may.see_money, _to_bill, "invoices:money"),
    ("Owed and late", may.see_money, _late_bills, "invoices:money"),
    ("Where the crews are", may.see_the_diary, _crews, "jobs:diary"),
)


def greeting(today: date) -> str:
    """Say what day it is, and when it is one on which nobody works."""
    days = WorkingDays(england_bank_holidays([today.year]))
    rest = "" if days.is_working(today) else ", a day off"
    return f"{day(today)}{rest}"
