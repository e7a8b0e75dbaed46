"""What the tests of the look's pages share: who asks, and what a browser sends."""

from django.test import Client

from firm.models import Person
from jobs.models import Job
from quotes.models import Look


def signed_in(person: Person) -> Client:
    visitor = Client()
    visitor.force_login(person)
    return visitor


def words_of(answer) -> str:
    """Return a page's words, ties between figures and units made plain."""
    return " ".join(answer.content.decode().replace("\xa0", " ").split())


def version(job: Job) -> int:
    return Look.objects.get(job=job).version


def room_typed(**typed: object) -> dict[str, object]:
    usual: dict[str, object] = {
        "name": "Bedroom",
        "length": "4200",
        "width": "3600",
        "height": "2400",
        "background": "B06",
        "has_ceiling": "on",
        "ceiling_background": "B08",
    }
    return usual | typed


def walk(*sides: tuple[str, int]) -> dict[str, object]:
    """Return the rows of a walk as a browser sends them, two left empty."""
    rows = [*sides, ("", 90), ("", 90)]
    typed: dict[str, object] = {
        "shape": "walk",
        "walls-TOTAL_FORMS": len(rows),
        "walls-INITIAL_FORMS": 0,
    }
    for place, (length, turn) in enumerate(rows):
        typed[f"walls-{place}-length"] = length
        typed[f"walls-{place}-turn"] = turn
    return typed
