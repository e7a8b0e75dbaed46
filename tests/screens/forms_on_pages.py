"""What a page would send: each form's address, the names in it and what they hold."""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

from django.test import Client

from firm.models import Notice, Person
from jobs.models import Job, MaterialOrder
from tests.screens import world
from tests.screens.table import cells

FIGURES = {"decimal", "numeric"}


@dataclass(frozen=True)
class Form:
    action: str
    holds: dict[str, str] = field(default_factory=dict)
    figures: set[str] = field(default_factory=set)
    days: set[str] = field(default_factory=set)

    @property
    def kind(self) -> tuple[str, ...]:
        """Return what makes two forms alike: the address but for ids, and names."""
        return (pattern(self.action), *(pattern(name) for name in sorted(self.holds)))


def pattern(url: str) -> str:
    return re.sub(r"\d+", "#", url)


class Page(HTMLParser):
    """Read the forms of a page that are posted."""

    def __init__(self, text: str, url: str) -> None:
        super().__init__()
        self.url, self.select = url, ""
        self.found: list[Form] = []
        self.form: Form | None = None
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.form = Form(said.get("action") or self.url)
            if said.get("method", "").lower() == "post":
                self.found.append(self.form)
        elif self.form is not None and tag == "option":
            self._choose(self.form, said)
        elif self.form is not None and tag != "button" and said.get("name"):
            self._take(self.form, tag, said)

    def _choose(self, form: Form, said: dict[str, str]) -> None:
        """Take what is selected, or else the first, as a browser does."""
        if self.select and ("selected" in said or self.select not in form.holds):
            form.holds[self.select] = said.get("value", "")

    def _take(self, form: Form, tag: str, said: dict[str, str]) -> None:
        name, kind = said["name"], said.get("type", "")
        if tag == "select":
            self.select = name
        if kind == "number" or said.get("inputmode") in FIGURES:
            form.figures.add(name)
        if kind == "date":
            form.days.add(name)
        if kind in {"radio", "checkbox"} and "checked" not in said:
            form.holds.setdefault(name, "")
        elif tag != "select":
            form.holds[name] = said.get("value", "")

    def handle_endtag(self, tag: str) -> None:
        if tag == "select":
            self.select = ""
        if tag == "form":
            self.form = None


def pages_of(here: world.World) -> list[str]:
    """Return every page that may hold a form, of things in every state."""
    urls = [here.url(name) for name, verb, _ in cells() if verb == "GET"]
    for job in Job.objects.all():
        urls += [job.get_absolute_url(), f"/jobs/{job.pk}/look/"]
        urls += [f"/jobs/{job.pk}/quote/"]
    for kept in (*MaterialOrder.objects.all(), *Notice.objects.all()):
        urls.append(kept.get_absolute_url())
    urls += [f"/people/{person.pk}/" for person in Person.objects.exclude(role="clock")]
    return sorted(set(urls))


def forms_of(here: world.World, browser: Client) -> list[Form]:
    """Return one of each form that a page shows this person, but for the door's."""
    found: dict[tuple[str, ...], Form] = {}
    for url in pages_of(here):
        page = browser.get(url)
        if page.status_code == 200 and "html" in page["Content-Type"]:
            for form in Page(page.content.decode(), url).found:
                form.holds.pop("csrfmiddlewaretoken", None)
                found.setdefault(form.kind, form)
    return [form for form in found.values() if "/sign-in/" not in form.action]
