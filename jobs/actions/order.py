"""Order what a job needs from a merchant, send it, and tick off what arrives."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from django.db import IntegrityError, transaction
from django.utils.timezone import localdate

from firm import may
from firm.actions import history, tray
from firm.actions.numbers import take_number
from firm.actions.papers import want_paper
from firm.engine.refusal import Refused
from firm.models import Notice, Person
from jobs.documents import order as papers
from jobs.models import Job, MaterialNeed, MaterialOrder, Merchant, OrderLine
from jobs.queries.calendar import working_days_around

ONLY_THE_OFFICE = "Only the office can order materials."
State = MaterialOrder.State


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """How much of one line came, and what was wrong with it."""

    packs: int
    trouble: str = ""


@transaction.atomic
def draft_order(
    job_id: int,
    *,
    merchant_id: int,
    wanted_on: date,
    packs: Mapping[int, int],
    by: Person,
    now: datetime,
) -> MaterialOrder:
    """Write an order down: so many packs of each need, by the need's id."""
    _check(by)
    _check_drop(wanted_on, localdate(now))
    merchant = Merchant.objects.filter(pk=merchant_id, is_active=True).first()
    if merchant is None:
        raise Refused("That merchant is not in the book any more.", "merchant")
    needs = _needs(job_id, packs)
    order = MaterialOrder.objects.create(
        merchant=merchant, job_id=job_id, wanted_on=wanted_on
    )
    try:
        with transaction.atomic():
            OrderLine.objects.bulk_create(
                OrderLine(order=order, need=need, packs=packs[need.pk])
                for need in needs
            )
    except IntegrityError:
        raise Refused(
            "Somebody has ordered some of this meanwhile. Look at the job again."
        ) from None
    words = f"An order to {merchant} is written: {_count(needs)}."
    _tell(order, "order-written", words, now, by)
    return order


@transaction.atomic
def send_order(order_id: int, *, by: Person, now: datetime) -> MaterialOrder:
    """Number an order, print it and leave it for the merchant in the tray."""
    _check(by)
    order = _order(order_id)
    _check_drop(order.wanted_on, localdate(now))
    number = take_number("order")
    _move(order_id, State.DRAFT, state=State.SENT, number=number, sent_at=now)
    order.refresh_from_db()
    paper = want_paper(
        kind=papers.KIND,
        about=("order", order.pk),
        snapshot=papers.snapshot_of(order),
        title=papers.title_of(order),
        now=now,
    )
    MaterialOrder.objects.filter(pk=order.pk).update(paper=paper)
    subject, text = papers.letter_of(order)
    tray.leave_notice(
        key=f"order/{order.pk}",
        kind=papers.KIND,
        to_name=order.merchant.name,
        to_address=order.merchant.email,
        subject=subject,
        text=text,
        about=("order", order.pk),
        job_id=order.job_id,
        paper_id=paper.pk,
        due_at=now,
        now=now,
    )
    _tell(order, "order-sent", f"Order {number} sent to {order.merchant}.", now, by)
    order.refresh_from_db()
    return order


@transaction.atomic
def call_off_order(order_id: int, *, by: Person, now: datetime) -> None:
    """Drop an order that has not been sent; what it held is free to order again."""
    _check(by)
    order = _order(order_id)
    _move(order_id, State.DRAFT, state=State.OFF)
    order.lines.all().delete()
    _tell(order, "order-off", f"The order to {order.merchant} was dropped.", now, by)


@transaction.atomic
def tick_off_order(
    order_id: int, *, lines: Mapping[int, Arrived], by: Person, now: datetime
) -> None:
    """Write down what was dropped, line by line, and what was wrong with it."""
    _check(by)
    order = _order(order_id)
    on_order = list(order.lines.select_related("need"))
    for line in on_order:
        _check_line(line, lines)
    _move(order_id, State.SENT, state=State.ARRIVED)
    for line in on_order:
        came = lines[line.pk]
        line.arrived_packs, line.trouble = came.packs, came.trouble.strip()
    OrderLine.objects.bulk_update(on_order, ["arrived_packs", "trouble"])
    words = f"Order {order.number} is on site.{_trouble_words(on_order)}"
    _tell(order, "order-arrived", words, now, by)


@tray.still_wanted(papers.KIND)
def order_stands(notice: Notice, _now: datetime) -> str | None:
    order = MaterialOrder.objects.filter(pk=notice.about_id).first()
    if order is None or order.state == State.OFF:
        return "The order was called off."
    if order.state == State.ARRIVED:
        return "It has been dropped already."
    return None


def _check(by: Person) -> None:
    if not may.order_materials(by):
        raise Refused(ONLY_THE_OFFICE)


def _check_drop(wanted_on: date, today: date) -> None:
    if wanted_on < today:
        raise Refused(
            f"{wanted_on:%a %-d %b} has gone. Pick a later day for the drop.",
            "wanted_on",
        )
    days = working_days_around(wanted_on)
    if not days.is_working(wanted_on):
        raise Refused(
            f"{wanted_on:%a %-d %b} is a weekend or a bank holiday. Pick a day that"
            " the merchant drives.",
            "wanted_on",
        )


def _needs(job_id: int, packs: Mapping[int, int]) -> list[MaterialNeed]:
    if not Job.objects.filter(pk=job_id).exists():
        raise Refused("There is no such job.")
    needs = list(MaterialNeed.objects.filter(job_id=job_id, pk__in=packs))
    if not needs:
        raise Refused("Tick at least one thing to order.")
    if len(needs) != len(packs):
        raise Refused("Some of this is not needed on this job. Look at it again.")
    for need in needs:
        if packs[need.pk] < 1:
            raise Refused(
                f"{need.item}: give at least one pack, or leave it out.",
                f"packs_{need.pk}",
            )
    return needs


def _order(order_id: int) -> MaterialOrder:
    rows = MaterialOrder.objects.select_related("merchant", "job__site")
    order = rows.filter(pk=order_id).first()
    if order is None:
        raise Refused("There is no such order.")
    return order


def _move(order_id: int, allowed: str, **columns: object) -> None:
    if not MaterialOrder.objects.filter(pk=order_id, state=allowed).update(**columns):
        raise Refused("This order is not as it was. Look at it again.")


def _check_line(line: OrderLine, lines: Mapping[int, Arrived]) -> None:
    came = lines.get(line.pk)
    if came is None:
        raise Refused(f"Say how many came: {line.need.item}.")
    if came.packs > line.packs:
        raise Refused(
            f"{line.need.item}: {came.packs} came and {line.packs} were ordered."
            " Write down what was ordered, and the rest in the trouble.",
            f"arrived_{line.pk}",
        )


def _trouble_words(lines: list[OrderLine]) -> str:
    troubles = [
        f" {line.need.item}: {_line_trouble(line)}."
        for line in lines
        if is_in_trouble(line)
    ]
    return "".join(troubles)


def is_in_trouble(line: OrderLine) -> bool:
    return bool(line.trouble) or (line.arrived_packs or 0) < line.packs


def _line_trouble(line: OrderLine) -> str:
    short = line.packs - (line.arrived_packs or 0)
    said = [f"{short} short of {line.packs}"] if short else []
    return ", ".join(said + ([line.trouble.rstrip(".")] if line.trouble else []))


def _count(needs: list[MaterialNeed]) -> str:
    return "1 thing" if len(needs) == 1 else f"{len(needs)} things"


def _tell(
    order: MaterialOrder, event: str, words: str, now: datetime, by: Person
) -> None:
    about = ("job", order.job_id)
    history.write(about=about, event=event, words=words, now=now, by=by)
