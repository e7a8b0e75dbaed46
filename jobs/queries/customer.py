"""Customers: who is in the book, and whether somebody is in it already."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import Any

from django.db.models import Count, F, Q, QuerySet
from django.db.models.functions import Lower
from django.http import Http404

from firm import may
from firm.engine.refusal import Refused
from firm.models import HistoryLine, Person
from jobs.engine import contact
from jobs.models import Customer, Job, Site
from jobs.models.customer import CustomerQuerySet

NOT_FOUND = "There is no such customer."
MOST_SUGGESTED = 5
SHORTEST_NAME, SHORTEST_NUMBER, SHORTEST_POSTCODE = 3, 5, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """Somebody in the book whom the caller may be, or must be."""

    customer: Customer
    is_same: bool


def customers_seen_by(person: Person) -> CustomerQuerySet:
    customers = Customer.objects.all()
    return customers if may.see_customers(person) else customers.none()


def customer_for(person: Person, customer_id: int) -> Customer:
    """Return a customer whom this person may see; any other is not found."""
    customer = customers_seen_by(person).filter(pk=customer_id).first()
    if customer is None:
        raise Http404(NOT_FOUND)
    return customer


def customer_list(
    person: Person, words: str, after: str, size: int
) -> tuple[list[Any], str]:
    """Return a page of customers by name, and the key of the next page.

    Each carries ``jobs_count``.
    """
    customers = customers_seen_by(person)
    if words.strip():
        customers = customers.like(words.strip())
    sorted_by_name = customers.annotate(
        jobs_count=Count("jobs", distinct=True), sort=Lower("name")
    ).order_by("sort", "pk")
    name, _, pk = after.rpartition("~")
    if pk.isdecimal() and len(pk) < 19:
        same, later = Q(sort=name, pk__gt=int(pk)), Q(sort__gt=name)
        sorted_by_name = sorted_by_name.filter(same | later)
    rows = list(sorted_by_name[: size + 1])
    if len(rows) <= size:
        return rows, ""
    last = rows[size - 1]
    return rows[:size], f"{last.sort}~{last.pk}"


def jobs_of(customer: Customer) -> Iterable[Job]:
    return Job.objects.filter(customer=customer).with_people()


def history_of(customer: Customer) -> Iterable[HistoryLine]:
    return HistoryLine.objects.about("customer", customer.pk).select_related("by")


def same_person(name: str, phone: str, postcode: str) -> list[Customer]:
    """Return who must be this person: the same number, or name and postcode."""
    match = Q(pk=None)
    if phone:
        match |= Q(phone=phone)
    key = contact.postcode_key(postcode)
    if name and key:
        at_home = Q(postcode_key=key) | Q(sites__postcode_key=key)
        match |= Q(name__iexact=" ".join(name.split())) & at_home
    return list(_with_places(Customer.objects.filter(match))[:MOST_SUGGESTED])


def suggested(person: Person, name: str, phone: str, postcode: str) -> list[Known]:
    """Return who this may be, while the name, number or postcode is being typed."""
    if not may.take_enquiries(person):
        return []
    same = same_person(name, _number_or_nothing(phone), postcode)
    known = [Known(customer=customer, is_same=True) for customer in same]
    match = _typed_so_far(name, phone, postcode)
    if match is None:
        return known
    others = Customer.objects.filter(match).exclude(pk__in=[one.pk for one in same])
    like = _with_places(others)[: MOST_SUGGESTED - len(same)]
    return [*known, *(Known(customer=customer, is_same=False) for customer in like)]


def _typed_so_far(name: str, phone: str, postcode: str) -> Q | None:
    name, key = " ".join(name.split()), contact.postcode_key(postcode)
    digits = "".join(mark for mark in phone if mark in "0123456789").lstrip("0")
    matches = []
    if len(name) >= SHORTEST_NAME:
        matches.append(Q(name__icontains=name))
    if len(digits) >= SHORTEST_NUMBER:
        matches.append(Q(phone__contains=digits.removeprefix("44").lstrip("0")))
    if len(key) >= SHORTEST_POSTCODE:
        matches.append(Q(postcode_key__startswith=key))
        matches.append(Q(sites__postcode_key__startswith=key))
    return reduce(or_, matches) if matches else None


def _with_places(customers: CustomerQuerySet) -> "QuerySet[Customer]":
    counted = customers.annotate(jobs_count=Count("jobs", distinct=True))
    return counted.order_by("name", "pk").prefetch_related("sites")


def _number_or_nothing(typed: str) -> str:
    try:
        return contact.phone_number(typed)
    except Refused:
        return ""


def site_of(customer: Customer, site_id: int | None) -> Site | None:
    """Return the place chosen, or the one where the last job of theirs was."""
    sites = Site.objects.filter(customer=customer)
    if site_id is not None:
        return sites.filter(pk=site_id).first()
    return sites.order_by(F("jobs__number").desc(nulls_last=True), "-pk").first()
