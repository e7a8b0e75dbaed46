"""What coming jobs need in whole packs, what is not ordered, and by when it must be."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Prefetch, QuerySet

from jobs.engine.ordering import Need, Ordering, order
from jobs.models import Booking, Job, MaterialNeed, MaterialOrder, Merchant, OrderLine
from jobs.queries.calendar import working_days_around

State = MaterialOrder.State


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedLine:
    """One need of a job and where it stands."""

    need: MaterialNeed
    line: OrderLine | None

    @property
    def kind(self) -> str:
        """Return the tag of its state: new, wait, good or late."""
        if self.line is None:
            return "new"
        state = self.line.order.state
        if state == State.ARRIVED:
            return "late" if self.is_in_trouble else "good"
        return "wait"

    @property
    def words(self) -> str:
        if self.line is None:
            return "Not ordered"
        material_order = self.line.order
        if material_order.state == State.DRAFT:
            return "Written, not sent"
        if material_order.state == State.SENT:
            return f"Due {material_order.wanted_on:%a %-d %b}"
        return self._trouble_words if self.is_in_trouble else "On site"

    @property
    def is_in_trouble(self) -> bool:
        if self.line is None or self.line.order.state != State.ARRIVED:
            return False
        return bool(self.line.trouble) or (self.line.arrived_packs or 0) < (
            self.line.packs
        )

    @property
    def _trouble_words(self) -> str:
        if self.line is None:
            return ""
        came, ordered = self.line.arrived_packs or 0, self.line.packs
        short = f"{ordered - came} short" if came < ordered else ""
        return ", ".join(part for part in (short, self.line.trouble) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderBy:
    """The last day on which a merchant can be asked."""

    merchant: Merchant
    on: date
    is_late: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class JobNeeds:
    """A coming job: when it starts and what it needs."""

    job: Job
    needed_on: date | None
    has_begun: bool
    crew: str
    lines: tuple[NeedLine, ...]
    order_by: tuple[OrderBy, ...]

    @property
    def to_order(self) -> tuple[NeedLine, ...]:
        return tuple(line for line in self.lines if line.line is None)

    @property
    def in_trouble(self) -> tuple[NeedLine, ...]:
        return tuple(line for line in self.lines if line.is_in_trouble)

    @property
    def latest_on(self) -> date | None:
        """Return the last day on which any merchant still makes it."""
        return max((each.on for each in self.order_by), default=None)


def coming_needs(today: date) -> list[JobNeeds]:
    """Return the jobs that are to come or under way, by the day they need things."""
    merchants = list(Merchant.objects.filter(is_active=True))
    rows = [_job_needs(job, merchants, today) for job in _coming_jobs()]
    return sorted(
        (row for row in rows if row.lines),
        key=lambda row: (row.needed_on is None, row.needed_on or today, row.job.number),
    )


def needs_of(job: Job, today: date) -> JobNeeds:
    """Return one job's needs, as on the list."""
    fetched = _with_needs(Job.objects.filter(pk=job.pk)).get()
    return _job_needs(fetched, list(Merchant.objects.filter(is_active=True)), today)


def orders_to_place(today: date) -> list[JobNeeds]:
    """Return the jobs whose order is due: its last day is today or has gone."""
    return [
        row
        for row in coming_needs(today)
        if row.to_order and row.latest_on is not None and row.latest_on <= today
    ]


def drops_due(today: date) -> QuerySet[MaterialOrder]:
    """Return the orders that should be on site by now and are not ticked off."""
    sent = MaterialOrder.objects.filter(state=State.SENT, wanted_on__lte=today)
    return sent.select_related("merchant", "job__site").order_by("wanted_on")


def orders_under_way() -> QuerySet[MaterialOrder]:
    """Return the orders that are written or sent, the next drop first."""
    rows = MaterialOrder.objects.filter(state__in=[State.DRAFT, State.SENT])
    return rows.select_related("merchant", "job__site").order_by("wanted_on", "pk")


def drop_day(needed_on: date, today: date) -> date:
    """Return the working day before the crew comes, or the soonest there is."""
    days = working_days_around(needed_on)
    return max(days.add(needed_on, -1), days.next_on_or_after(today))


def _coming_jobs() -> QuerySet[Job]:
    return _with_needs(Job.objects.at_stage(Job.Stage.WON, Job.Stage.BOOKED))


def _with_needs(jobs: QuerySet[Job]) -> QuerySet[Job]:
    needs = MaterialNeed.objects.select_related("order_line__order__merchant")
    standing = Booking.objects.standing().select_related("crew")
    return jobs.select_related("site", "customer").prefetch_related(
        Prefetch("needs", needs),
        Prefetch("bookings", standing),
    )


def _job_needs(job: Job, merchants: Sequence[Merchant], today: date) -> JobNeeds:
    lines = tuple(
        NeedLine(need=need, line=getattr(need, "order_line", None))
        for need in job.needs.all()
    )
    to_order = [line.need for line in lines if line.line is None]
    bookings = list(job.bookings.all())
    needed_on = min((booking.first_on for booking in bookings), default=None)
    order_by = _order_by(to_order, needed_on, merchants, today)
    return JobNeeds(
        job=job,
        needed_on=needed_on,
        has_begun=needed_on is not None and needed_on <= today,
        crew=", ".join(booking.crew.name for booking in bookings),
        lines=lines,
        order_by=tuple(order_by),
    )


def _order_by(
    needs: Sequence[MaterialNeed],
    needed_on: date | None,
    merchants: Iterable[Merchant],
    today: date,
) -> Iterable[OrderBy]:
    """Ask the ordering engine for each merchant; needs are whole packs already."""
    if not needs or needed_on is None:
        return
    packs = tuple(
        Need(
            item=f"{need.item}, {need.pack}",
            quantity=Decimal(need.packs),
            unit="pack",
            pack_size=Decimal(1),
            needed_on=needed_on,
        )
        for need in needs
    )
    for merchant in merchants:
        lead_working_days = merchant.lead_working_days
        answer = order(
            Ordering(needs=packs, lead_working_days=lead_working_days, today=today)
        )
        last_on = min(line.order_by_on for line in answer.lines)
        yield OrderBy(merchant=merchant, on=last_on, is_late=last_on < today)
