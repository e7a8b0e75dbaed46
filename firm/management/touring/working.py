"""Steps five to seven: the diary, the materials, and the crew's tomorrow."""

from datetime import timedelta
from functools import partial

from django.db import IntegrityError, transaction
from django.utils.timezone import localdate

from firm.actions.rounds import all_rounds
from firm.management.demo import above
from firm.management.demo.days import moment
from firm.management.touring.walk import Surprise, Walk
from firm.models import Firm, Person
from firm.templatetags.figures import clock, short_day


def the_diary(walk: Walk) -> None:
    now, by = walk.days.at("5 09:00"), walk.cast.office
    walk.step(5, "The diary", now)
    out_on = walk.days.on(7)
    above.other_trade.add_other_trade(
        walk.job.pk,
        above.other_trade.TradeFacts(
            side="before", trade="Electrician", ready_on=out_on, sure="promised"
        ),
        by=by,
        now=now,
    )
    when = above.diary.when_for(walk.job, today=localdate(now))
    best = when.suggestions.best[0]
    walk.say(f"Best: {best.slot.crew.name}, {best.when}. {' '.join(best.reasons)}")
    for why in when.suggestions.blocked_by:
        walk.say(why)
    book = partial(
        above.booking.book_in, walk.job.pk, crew_id=best.slot.crew.crew_id, by=by
    )
    too_soon = above.slots.Half(out_on, "am")
    walk.refused(
        partial(book, start=too_soon, now=now),
        "a start while the electrician is in is refused",
    )
    walk.booking = book(start=best.slot.start, now=now)
    halves = above.booking.halves_of(walk.booking)
    walk.say(
        f"{walk.booking.crew.name} is booked for {above.slot_words.run_words(halves)}"
    )
    walk.holds(_is_given_once(walk), "the database gives each half-day away once")
    for follower in above.followers.followers_of(
        walk.job,
        finish_on=walk.booking.last_on,
        counts_clear_days=Firm.objects.get().drying_counts_clear_days,
    ):
        walk.say(follower.rule)
    walk.work_the_tray(now)


def _is_given_once(walk: Walk) -> bool:
    half = walk.booking.halves.first()
    try:
        with transaction.atomic():
            half.__class__.objects.create(
                booking=walk.booking, crew=half.crew, on=half.on, half=half.half
            )
    except IntegrityError:
        return True
    return False


def the_materials(walk: Walk) -> None:
    now, by = walk.days.at("5 11:00"), walk.cast.office
    walk.step(6, "The materials", now)
    needs = list(walk.job.needs.all())
    walk.say("; ".join(f"{need.packs} × {need.pack} {need.item}" for need in needs))
    wanted_on = walk.days.calendar.add(walk.booking.first_on, -1)
    order = above.order.draft_order(
        walk.job.pk,
        merchant_id=next(iter(walk.cast.merchants.values())),
        wanted_on=wanted_on,
        packs={need.pk: need.packs for need in needs},
        by=by,
        now=now,
    )
    above.order.send_order(order.pk, by=by, now=now)
    letters = walk.work_the_tray(now)
    walk.holds(letters[0].attached, "the merchant has the order with its paper")
    came = {
        line.pk: above.order.Arrived(packs=line.packs) for line in order.lines.all()
    }
    tick_off = partial(
        above.order.tick_off_order,
        order.pk,
        lines=came,
        by=by,
        now=moment(wanted_on, "08:20"),
    )
    tick_off()
    walk.refused(tick_off, f"ticked off on {short_day(wanted_on)}, and only once")


def the_crews_tomorrow(walk: Walk) -> None:
    first_on = walk.booking.first_on
    now = moment(walk.days.calendar.add(first_on, -1), "17:00")
    walk.step(7, "Tomorrow, for the crew", now)
    lead = walk.cast.lead_of(walk.booking.crew.name)
    if above.tomorrow.sheet_job(lead, walk.job.pk, now=now) is None:
        raise Surprise("The crew lead cannot see tomorrow's sheet.")
    sheet = above.tomorrow.sheet_for(walk.job, today=first_on)
    walls = sum(len(room.items) for room in sheet.rooms)
    walk.say(
        f"{sheet.crew}, {clock(sheet.starts_at)}, {sheet.address.splitlines()[0]}:"
        f" {walls} surfaces, {len(sheet.stuff)} things on site"
    )
    all_rounds()["evening"](now)
    letters = walk.work_the_tray(now)
    walk.holds(
        {letter.kind for letter in letters} == {"evening-customer", "evening-crew"},
        "the customer and both of the crew have heard",
    )
    crew = [letter.text for letter in letters if letter.kind == "evening-crew"]
    walk.holds(not any("£" in text for text in crew), "no price goes to the crew")
    stranger = Person.objects.filter(role=Person.Role.CREW).exclude(crew=lead.crew)
    walk.holds(
        above.tomorrow.sheet_job(stranger.first(), walk.job.pk, now=now) is None,
        "another crew does not see this sheet",
    )
    evening_again = now + timedelta(minutes=1)
    all_rounds()["evening"](evening_again)
    walk.holds(
        not walk.work_the_tray(evening_again), "a second round tells nobody twice"
    )
