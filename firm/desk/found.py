"""What a search finds: jobs, customers, quotes and bills that this person may see."""

from dataclasses import dataclass

from firm import may
from firm.models import Person
from invoices.models import Bill
from jobs.models import Customer, Job
from jobs.queries.customer import customers_seen_by
from jobs.queries.job import jobs_seen_by, matching
from quotes.models import Quote

MOST_OF_A_KIND = 20
LONGEST_NUMBER = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Everything that matches, each kind cut off where a page would grow too long."""

    jobs: list[Job]
    customers: list[Customer]
    quotes: list[Quote]
    bills: list[Bill]

    @property
    def is_nothing(self) -> bool:
        return not (self.jobs or self.customers or self.quotes or self.bills)


def find(person: Person, words: str) -> Found:
    """Return what the words match: a name, a place, a phone or a number."""
    words = words.strip()
    if not words:
        return Found(jobs=[], customers=[], quotes=[], bills=[])
    jobs = matching(jobs_seen_by(person), words)
    customers = customers_seen_by(person).like(words)
    return Found(
        jobs=list(jobs[:MOST_OF_A_KIND]),
        customers=list(customers[:MOST_OF_A_KIND]),
        quotes=_quotes(person, _number_after("quote", words)),
        bills=_bills(person, _number_after("bill", words)),
    )


def _number_after(word: str, words: str) -> int | None:
    """Read "quote 12" or a bare "12"; any other words are no number."""
    digits = words.lower().removeprefix(word).strip()
    is_number = digits.isascii() and digits.isdecimal()
    return int(digits) if is_number and len(digits) <= LONGEST_NUMBER else None


def _quotes(person: Person, number: int | None) -> list[Quote]:
    if number is None or not may.see_prices(person):
        return []
    return list(Quote.objects.filter(number=number).select_related("job__customer"))


def _bills(person: Person, number: int | None) -> list[Bill]:
    if number is None or not may.see_money(person):
        return []
    return list(Bill.objects.filter(number=number).select_related("job__customer"))
