"""One order to a merchant, as the office sees it."""

from django.db.models import QuerySet
from django.http import Http404

from firm import may
from firm.models import Person
from jobs.models import Booking, Job, MaterialOrder, OrderLine


def job_to_order_for(person: Person, job_id: int) -> Job:
    job = Job.objects.with_people().filter(pk=job_id).first()
    if job is None or not may.order_materials(person):
        raise Http404("There is no such job to order for.")
    return job


def order_for(person: Person, order_id: int) -> MaterialOrder:
    """Return an order that this person may see; any other is not found."""
    rows = MaterialOrder.objects.select_related("merchant", "job__site", "paper")
    order = rows.filter(pk=order_id).first()
    if order is None or not may.order_materials(person):
        raise Http404("There is no such order.")
    return order


def lines_of(order: MaterialOrder) -> QuerySet[OrderLine]:
    return order.lines.select_related("need")


def who_it_hits(order: MaterialOrder) -> Booking | None:
    """Return the visit that waits for what was ordered."""
    return order.job.bookings.standing().select_related("crew").first()


def may_read_order_paper(person: Person, _order_id: int) -> bool:
    return may.order_materials(person)
