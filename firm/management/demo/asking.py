"""Somebody rings, somebody goes to see."""

from datetime import datetime, time
from typing import Any

from firm.management.demo import above
from firm.management.demo.story import Story


def ring(story: Story, now: datetime) -> None:
    """Write the call down as the office types it, the visit with it."""
    stage, job = story.stage, story.told
    who = stage.customers[job.customer]
    call = above.enquiry.Call(
        who=above.customer.CustomerFacts(
            name=who.name,
            phone=who.phone,
            email=who.email,
            kind=who.kind,
            address=who.address if who.kind != "home" else "",
            postcode=who.postcode if who.kind != "home" else "",
        ),
        where=above.enquiry.SiteFacts(
            address=job.address or who.address,
            postcode=job.postcode or who.postcode,
            way_in=job.way_in,
            parking=job.parking,
        ),
        asked=above.enquiry.AskedFacts(
            what=job.what,
            said=job.said,
            wanted_by_on=None
            if job.wanted_by is None
            else stage.days.on(job.wanted_by),
            others_on_site=job.others_on_site,
            heard_of_us=job.heard_of_us,
        ),
        visit=_visit(story),
        customer_id=stage.in_the_book.get(job.customer),
    )
    story.job = above.enquiry.take_enquiry(call, by=stage.cast.office, now=now)
    stage.in_the_book[job.customer] = story.job.customer_id


def _visit(story: Story) -> Any:
    visit = story.told.visit
    if visit is None:
        return None
    return above.visit.VisitFacts(
        person_id=story.stage.cast.people[visit.who].pk,
        on=story.stage.days.on(visit.on),
        at=time.fromisoformat(visit.at),
    )


def expect_another_trade(story: Story, n: int, now: datetime) -> None:
    trade = story.told.trades[n]
    days = story.stage.days
    above.other_trade.add_other_trade(
        story.job.pk,
        above.other_trade.TradeFacts(
            side=trade.side,
            trade=trade.trade,
            who=trade.who,
            phone=trade.phone,
            ready_on=None if trade.ready is None else days.on(trade.ready),
            sure=trade.sure,
            follows=trade.follows,
        ),
        by=story.stage.cast.office,
        now=now,
    )


def lose(story: Story, now: datetime) -> None:
    because = story.told.lost.because if story.told.lost else ""
    above.job.mark_lost(
        story.job.pk, because=because, by=story.stage.cast.office, now=now
    )
