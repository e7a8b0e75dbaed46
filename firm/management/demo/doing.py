"""A crew is booked, the plaster is ordered, notes are written, the job is finished."""

from datetime import date, datetime, timedelta
from functools import partial
from typing import Any

from django.utils.timezone import localdate

from firm.management.demo import above, paying, told
from firm.management.demo.story import Story

LOOK_AHEAD = timedelta(days=120)
# When the last trowel is washed, after a morning and after an afternoon.
WASHED_AT = {"am": "12:05", "pm": "15:40"}


def book(story: Story, now: datetime) -> None:
    """Book the crew's first free run, and plan what hangs on its days."""
    planned = story.told.booking
    if planned is None:
        return
    stage = story.stage
    crew = stage.cast.crews[planned.crew]
    story.booking = above.booking.book_in(
        story.job.pk,
        crew_id=crew.pk,
        start=_first_free(story, planned, now),
        by=stage.cast.office,
        now=now,
    )
    _plan_orders(story, planned, localdate(now))
    _plan_days(story, planned)


def _first_free(story: Story, planned: told.BookingTold, now: datetime) -> Any:
    stage = story.stage
    crew = stage.cast.crews[planned.crew]
    first_on = max(stage.days.on(planned.first), localdate(now))
    diary = above.diary.crew_diaries([crew], from_on=first_on)[0]
    labour = above.diary.labour_of(story.job)
    slots = above.slots.free_slots(
        diary,
        count=above.diary.half_days_for(labour, crew),
        from_half=above.slots.Half(first_on, "am"),
        until_on=first_on + LOOK_AHEAD,
        days=stage.days.calendar,
        most=1,
    )
    return slots[0].start


def _plan_orders(story: Story, planned: told.BookingTold, today: date) -> None:
    days, first_on = story.stage.days, story.booking.first_on
    for n, each in enumerate(planned.orders):
        at = days.later(today, each.after, "11:20")
        wanted_on = max(days.calendar.add(first_on, -1), localdate(at))
        story.plan(at, partial(order, story, n, wanted_on))


def _plan_days(story: Story, planned: told.BookingTold) -> None:
    days, booking = story.stage.days, story.booking
    for n, note in enumerate(planned.notes):
        at = days.later(booking.first_on, note.day, note.at)
        story.plan(at, partial(write_note, story, n))
    if planned.is_finished:
        last = above.booking.halves_of(booking)[-1]
        at = days.later(booking.last_on, 0, WASHED_AT[last.half])
        story.plan(at, partial(finish, story))


def order(story: Story, n: int, wanted_on: date, now: datetime) -> None:
    each, cast = _booking(story).orders[n], story.stage.cast
    needs = above.job_models.MaterialNeed.objects.filter(
        job=story.job, order_line__isnull=True
    )
    made = above.order.draft_order(
        story.job.pk,
        merchant_id=cast.merchants[each.merchant],
        wanted_on=wanted_on,
        packs={need.pk: need.packs for need in needs},
        by=cast.office,
        now=now,
    )
    if each.is_sent:
        above.order.send_order(made.pk, by=cast.office, now=now)
    if each.is_sent and each.is_ticked_off:
        at = max(story.stage.days.later(wanted_on, 0, "13:10"), now)
        story.plan(at, partial(tick_off, story, n, made.pk))


def tick_off(story: Story, n: int, order_id: int, now: datetime) -> None:
    short = {each.code: each for each in _booking(story).orders[n].short}
    lines = above.job_models.OrderLine.objects.filter(order=order_id)
    came = {}
    for line in lines.select_related("need"):
        less = short.get(line.need.item_code)
        came[line.pk] = above.order.Arrived(
            packs=max(0, line.packs - (less.packs if less else 0)),
            trouble=less.trouble if less else "",
        )
    office = story.stage.cast.office
    above.order.tick_off_order(order_id, lines=came, by=office, now=now)


def write_note(story: Story, n: int, now: datetime) -> None:
    planned = _booking(story)
    lead = story.stage.cast.lead_of(planned.crew)
    words = planned.notes[n].words
    above.day_note.write_note(story.job.pk, words=words, by=lead, now=now)


def finish(story: Story, now: datetime) -> None:
    lead = story.stage.cast.lead_of(_booking(story).crew)
    above.finish.finish_job(story.job.pk, by=lead, now=now)
    if story.told.bill is not None:
        at = story.stage.days.later(localdate(now), story.told.bill.after, "16:30")
        story.plan(at, partial(paying.bill, story))


def _booking(story: Story) -> told.BookingTold:
    planned = story.told.booking
    if planned is None:
        raise RuntimeError("A story without a booking has no days on site.")
    return planned
