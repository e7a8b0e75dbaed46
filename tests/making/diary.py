"""The work handed down, who is on it when, and what is ordered for it."""

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from firm.engine.working_days import WorkingDays, england_bank_holidays
from firm.models import Crew, TimeOff
from jobs.engine.slots import Half, run_of
from jobs.models import (
    BookedHalf,
    Booking,
    Job,
    JobCaution,
    MaterialNeed,
    MaterialOrder,
    Merchant,
    OrderLine,
    WorkItem,
)
from tests.making import jobs, people

# The Monday after make.TODAY (Wednesday 4 March 2026).
MONDAY = date(2026, 3, 9)
DAYS = WorkingDays(england_bank_holidays([2026, 2027]))


def work_item(on_job: Job | None = None, **columns: Any) -> WorkItem:
    """Return a bedroom ceiling: a day and a half for a plasterer and a mate."""
    on_job = on_job or jobs.job("won")
    columns.setdefault("position", on_job.work_items.count() + 1)
    columns.setdefault("room", "Front bedroom")
    columns.setdefault("what", "Ceiling: skim over painted plaster")
    columns.setdefault("layers", "Bonding grip\nFinish, two passes")
    columns.setdefault("area_m2", Decimal("12.400"))
    columns.setdefault("suction", "low")
    # 9.5 h and a clear-down of 0.25 h a day: 10 h is over two halves of 3.75 h
    # and under three.
    columns.setdefault("plasterer_hours", Decimal("9.500"))
    columns.setdefault("labourer_hours", Decimal("4.000"))
    columns.setdefault("drying_days", 5)
    return WorkItem.objects.create(job=on_job, **columns)


def won_job(**columns: Any) -> Job:
    """Return a job whose customer said yes, with a day and a half of work."""
    made = jobs.job("won", **columns)
    work_item(made)
    return made


def caution(on_job: Job, **columns: Any) -> JobCaution:
    columns.setdefault("code", "C-ACM")
    columns.setdefault("words", "Old textured coating: stop until it is tested.")
    columns.setdefault("authority", "HSE; Control of Asbestos Regulations 2012")
    return JobCaution.objects.create(job=on_job, **columns)


def need(on_job: Job, **columns: Any) -> MaterialNeed:
    columns.setdefault("item_code", "M-FIN")
    columns.setdefault("item", "Finish plaster")
    columns.setdefault("quantity", Decimal("62.000"))
    columns.setdefault("unit", "kg")
    columns.setdefault("pack", "25 kg bag")
    columns.setdefault("packs", 3)
    return MaterialNeed.objects.create(job=on_job, **columns)


def booked_job(
    start_on: date = MONDAY,
    count: int = 3,
    *,
    half: str = "am",
    crew: Crew | None = None,
    **columns: Any,
) -> Job:
    """Return a job in the diary for a run of half-days."""
    made = jobs.job("booked", **columns)
    work_item(made)
    booking(made, run_of(Half(start_on, half), count, DAYS), crew=crew)
    return made


def booking(on_job: Job, run: Sequence[Half], *, crew: Crew | None = None) -> Booking:
    crew = crew or people.crew()
    made = Booking.objects.create(
        job=on_job, crew=crew, first_on=run[0].on, last_on=run[-1].on
    )
    BookedHalf.objects.bulk_create(
        BookedHalf(booking=made, crew=crew, on=each.on, half=each.half) for each in run
    )
    return made


def time_off(of: Crew, first_on: date, days: int = 1, reason: str = "") -> TimeOff:
    last_on = first_on + timedelta(days=days - 1)
    return TimeOff.objects.create(
        crew=of, first_on=first_on, last_on=last_on, reason=reason
    )


def merchant(name: str = "Kiln Lane Builders' Yard", **columns: Any) -> Merchant:
    columns.setdefault("email", "yard@example.com")
    return Merchant.objects.update_or_create(name=name, defaults=columns)[0]


def order(on_job: Job, needs: Sequence[MaterialNeed], **columns: Any) -> MaterialOrder:
    """Return a draft of an order for a job's needs."""
    columns.setdefault("merchant", merchant())
    columns.setdefault("wanted_on", MONDAY)
    made = MaterialOrder.objects.create(job=on_job, **columns)
    OrderLine.objects.bulk_create(
        OrderLine(order=made, need=each, packs=each.packs) for each in needs
    )
    return made
