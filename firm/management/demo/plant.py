"""Plant the demo: each story through the actions of the pages, in the order of time."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial

from django.db import transaction

from firm.actions import papers, tray
from firm.engine.refusal import Refused
from firm.management.demo import above, asking, doing, looking, selling, told
from firm.management.demo.days import Clock, Days, moment
from firm.management.demo.opening_day import open_the_firm
from firm.management.demo.story import Stage, Story
from firm.models import Firm, Person

NOT_EMPTY = "There is a firm in this home already, so the demo is not planted."
NEVER_SENT = "Planted with the demo: it was never sent."
FIRST_DAY = -90
# Papers of the past are printed one by one behind what somebody wants today.
A_PAPER_EVERY = timedelta(seconds=6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Planted:
    """What stands in the home now: jobs by stage, in the order of the work."""

    customers: int
    jobs: dict[str, int]
    papers: int


@transaction.atomic
def plant(*, now: datetime) -> Planted:
    """Make the demo whole, or nothing of it."""
    if Firm.objects.exists() or Person.objects.staff().exists():
        raise Refused(NOT_EMPTY)
    days, clock = Days(now), Clock(now)
    opened_at = days.at(f"{FIRST_DAY} 08:00")
    cast = open_the_firm(told.the_setting(), days=days, now=opened_at)
    stage = Stage(
        days=days,
        clock=clock,
        cast=cast,
        customers=dict(told.the_customers()),
        rooms=dict(told.the_rooms()),
        in_the_book={},
    )
    for job in told.the_jobs():
        begin(Story(stage=stage, told=job))
    _plan_office_clock(days, clock)
    clock.run()
    tray.stop_due_letters(
        due_before=moment(days.today, "00:00"), because=NEVER_SENT, now=now
    )
    papers_left = papers.print_in_turn(every=A_PAPER_EVERY, now=now)
    return _planted(papers_left)


def begin(story: Story) -> None:
    """Plan what a story tells by the day; the rest follows from what it does."""
    job = story.told
    story.plan_at(job.rang, partial(asking.ring, story))
    for n, trade in enumerate(job.trades):
        story.plan_at(trade.at, partial(asking.expect_another_trade, story, n))
    if job.look is not None:
        story.plan_at(job.look.at, partial(looking.look, story))
    for n, quote in enumerate(job.quotes):
        story.plan_at(quote.at, partial(selling.quote, story, n))
    if job.answer is not None:
        story.plan_at(job.answer.at, partial(selling.answer, story))
    if job.booking is not None:
        story.plan_at(job.booking.at, partial(doing.book, story))
    if job.lost is not None:
        story.plan_at(job.lost.at, partial(asking.lose, story))


def _plan_office_clock(days: Days, clock: Clock) -> None:
    """Leave each day's reminders as the office clock does; nothing really goes."""
    for day in days.since(FIRST_DAY):
        if day < days.today:
            clock.plan(moment(day, "09:00"), _remind)
            clock.plan(moment(day, "21:00"), _put_the_day_away)


def _remind(now: datetime) -> None:
    above.chaser.leave_chasers(
        above.bills.unpaid_bills(), by=Person.objects.clock(), now=now
    )


def _put_the_day_away(now: datetime) -> None:
    tray.stop_due_letters(due_before=now, because=NEVER_SENT, now=now)


def _planted(papers_left: int) -> Planted:
    stages = above.job_models.Job.Stage
    jobs = above.job_models.Job.objects
    return Planted(
        customers=above.job_models.Customer.objects.count(),
        jobs={stage.label: jobs.at_stage(stage).count() for stage in stages},
        papers=papers_left,
    )
