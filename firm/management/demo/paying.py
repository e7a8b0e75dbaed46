"""The bill, the money that came for it, and what keeps it from being chased."""

from datetime import datetime
from decimal import Decimal
from functools import partial
from typing import Any
from uuid import uuid4

from django.utils.timezone import localdate

from firm.engine.money import pounds
from firm.management.demo import above
from firm.management.demo.story import Story


def bill(story: Story, now: datetime) -> None:
    told, stage = story.told.bill, story.stage
    if told is None:
        return
    made = above.bill.issue_bill(
        story.job.pk, by=stage.cast.office, today=localdate(now), now=now
    )
    for n, payment in enumerate(told.payments):
        at = stage.days.later(made.issued_on, payment.after, "10:05")
        story.plan(max(at, now), partial(pay, story, n, made))
    if told.hold is not None:
        at = stage.days.later(made.issued_on, told.hold.after, "14:15")
        story.plan(max(at, now), partial(hold, story, made))


def pay(story: Story, n: int, made: Any, now: datetime) -> None:
    payment = _bill(story).payments[n]
    part_gbp = pounds(made.payable_gbp * Decimal(payment.pct) / 100)
    above.payment.enter_payment(
        customer_id=made.customer_id,
        amount_gbp=part_gbp,
        received_on=localdate(now),
        method=payment.method,
        reference=payment.reference or f"BILL {made.number}",
        first_bill_id=made.pk,
        form_key=uuid4(),
        by=story.stage.cast.books,
        now=now,
    )


def hold(story: Story, made: Any, now: datetime) -> None:
    held = _bill(story).hold
    until_on = None if held.until is None else story.stage.days.on(held.until)
    above.hold.hold_bill(
        made.pk,
        kind=held.kind,
        words=held.words,
        until_on=until_on,
        by=story.stage.cast.office,
        now=now,
    )


def _bill(story: Story) -> Any:
    return story.told.bill
