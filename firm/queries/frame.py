"""What stands round every page: whose office it is, and where this person may go."""

from dataclasses import dataclass
from functools import cached_property

from django.http import HttpRequest
from django.urls import reverse

from firm import may
from firm.models import Firm, Person

IN_THE_BAR = 4


def _works_on_site(person: may.Somebody) -> bool:
    return may.see_tomorrow(person) and person.role in may.TOOLS


def _works_at_the_desk(person: may.Somebody) -> bool:
    return may.use_the_office(person) and not _works_on_site(person)


PLACES: tuple[tuple[str, str, may.Right], ...] = (
    ("Today", "firm:today", _works_at_the_desk),
    ("Tomorrow", "jobs:tomorrow", _works_on_site),
    ("Enquiries", "jobs:enquiries", may.take_enquiries),
    ("Jobs", "jobs:jobs", may.see_customers),
    ("Diary", "jobs:diary", may.see_the_diary),
    ("Materials", "jobs:materials", may.order_materials),
    ("Money", "invoices:money", may.see_money),
    ("Tray", "firm:tray", may.see_the_tray),
    ("Firm", "firm:firm", may.see_the_firm),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    label: str
    url: str
    is_here: bool


class Frame:
    """Read lazily, so a page that shows no name of the firm asks for none."""

    def __init__(self, request: HttpRequest) -> None:
        self._path = request.path
        user = getattr(request, "user", None)
        self.person = user if isinstance(user, Person) and user.is_active else None

    @cached_property
    def _firm(self) -> Firm | None:
        return Firm.objects.first()

    @property
    def firm_name(self) -> str:
        return self._firm.name if self._firm else "The plastering office"

    @property
    def firm_phone(self) -> str:
        return self._firm.phone if self._firm else ""

    @property
    def home(self) -> str:
        return reverse("firm:today")

    @property
    def search(self) -> str:
        if self.person and may.see_customers(self.person):
            return reverse("firm:search")
        return ""

    @cached_property
    def places(self) -> list[Place]:
        person = self.person
        if person is None:
            return []
        open_to_them = [
            (label, reverse(name)) for label, name, right in PLACES if right(person)
        ]
        here = self._here([url for _, url in open_to_them])
        return [
            Place(label=label, url=url, is_here=url == here)
            for label, url in open_to_them
        ]

    def _here(self, urls: list[str]) -> str:
        """Return the longest address of a place that this page lies under."""
        above = [url for url in urls if url != "/" and self._path.startswith(url)]
        return max(above, key=len, default=self._path)

    @property
    def first_places(self) -> list[Place]:
        return self.places[: self._in_the_bar]

    @property
    def more_places(self) -> list[Place]:
        return self.places[self._in_the_bar :]

    @property
    def _in_the_bar(self) -> int:
        return IN_THE_BAR if len(self.places) > IN_THE_BAR + 1 else IN_THE_BAR + 1

    @property
    def is_in_more(self) -> bool:
        return any(place.is_here for place in self.more_places)


def frame(request: HttpRequest) -> dict[str, Frame]:
    return {"frame": Frame(request)}
