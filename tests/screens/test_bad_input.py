"""Every form of the project, sent what no office ever typed."""

import logging
import re
from collections.abc import Iterator

import pytest
import time_machine
from django.db import transaction
from django.http import HttpResponse
from django.test import Client

from tests import make
from tests.screens import world
from tests.screens.forms_on_pages import Form, forms_of, pages_of, pattern
from tests.screens.table import cells

# In a field for a figure none of these is one.
NO_FIGURE = {
    "under a line": "1_0",
    "arabic digits": "١٢",
    "wide digits": "１２",
    "exponent": "1e1",
    "huge exponent": "9e999999",
    "not a number": "NaN",
    "endless": "Infinity",
    "below nothing": "-1",
    "more than a column": "9" * 5000,
    "words": "twelve",
}
NO_DAY = {
    "no such day": "29/02/2027",
    "no such month": "2027-13-01",
    "arabic day": "٢٠٢٧-٠١-٠١",
    "words": "tomorrow",
}
ODD = {
    "nothing": "0",
    "a thousand million": "1000000000",
    "first day there is": "0001-01-01",
    "last day there is": "9999-12-31",
    "a hundred thousand letters": "x" * 100_000,
    "turned about": "a\u202eb\u2066c",
    "drawing": "<svg/onload=1>",
    "a second header": "Rosa\r\nBcc: thief@example.com",
    "formula": "=1+1",
    "spaces": "  \u200b ",
    "unknown id": "999999999999999999999",
    "unknown choice": "no-such-choice",
}
MISSING = {
    "every field empty": lambda form: dict.fromkeys(form.holds, ""),
    "no field at all": lambda form: {"pressed": "1"},
}
REFUSED = {200, 400, 403, 404, 413, 422}
A_SENTENCE = re.compile(r"[A-Z][^<>]{8,}[.…”]")
TROUBLE = re.compile(r'role="alert"|notice-error|notice-warning|class="wrong"')

pytestmark = [pytest.mark.slow, pytest.mark.django_db]


@pytest.fixture(autouse=True)
def quiet() -> Iterator[None]:
    """Thousands of refusals are meant here, and need no line each in the log."""
    logging.disable(logging.CRITICAL)
    yield
    logging.disable(logging.NOTSET)


@pytest.fixture
def here() -> Iterator[world.World]:
    with time_machine.travel(make.NOW, tick=False):
        yield world.build()


@pytest.fixture
def owner(here) -> Client:
    return world.visitor(here, "owner")


def send(
    browser: Client, form: Form, typed: dict[str, str], before: dict[str, int]
) -> HttpResponse:
    """Send a form and undo what it did; note what a refusal changed all the same."""
    with transaction.atomic():
        answer = browser.post(form.action, typed)
        is_refused = answer.status_code in REFUSED
        answer.changed = world.changed(before) if is_refused else []
        transaction.set_rollback(True)
    browser.cookies.pop("messages", None)
    return answer


def faults_of(answer: HttpResponse) -> Iterator[str]:
    """Say what is wrong with an answer to typing like that."""
    code = answer.status_code
    if code >= 500:
        yield f"answered {code}"
        return
    if answer.changed:
        yield f"answered {code}, yet saved {answer.changed}"
    page = answer.content.decode()
    if code == 422 and not (TROUBLE.search(page) and A_SENTENCE.search(page)):
        yield "refused without a sentence"
    if "<svg/onload=1>" in page:
        yield "gave the drawing back as it came"


def is_kept(answer: HttpResponse, name: str, typed: str) -> bool:
    """Tell whether typing that was refused stands in its field again."""
    return f'name="{name}"' not in answer.content.decode() or (
        typed.strip() in answer.content.decode()
    )


def test_the_walk_finds_a_form_for_everything_that_is_sent(here, owner):
    """Guard the walk itself: what it does not find it cannot try."""
    shown = {pattern(form.action) for form in forms_of(here, owner)}
    expected = {
        pattern(here.url(name))
        for (name, verb, who), code in cells().items()
        if (verb, who) == ("POST", "owner") and code in {"303", "422"}
        if not name.startswith(("account_", "mfa_"))
    }
    # These stand on a page only while a bill is on hold, money is on account, or the
    # firm has no bank account yet.
    sometimes = {"/bills/#/lift/", "/bills/#/account/", "/firm/account/"}
    assert expected - shown == sometimes


@pytest.mark.parametrize(
    ("typed", "fields"), [(NO_FIGURE, "figures"), (NO_DAY, "days")]
)
def test_what_is_no_figure_and_no_day_is_refused_and_kept(typed, fields, here, owner):
    faults, tried, before = [], 0, world.rows()
    for form in forms_of(here, owner):
        for name in getattr(form, fields):
            for what, words in typed.items():
                answer = send(owner, form, form.holds | {name: words}, before)
                found = list(faults_of(answer))
                if answer.status_code != 422:
                    found.append(f"took it: {answer.status_code}")
                elif not is_kept(answer, name, words):
                    found.append("forgot the typing")
                faults += [f"{form.action} {name} {what}: {each}" for each in found]
                tried += 1
    assert not faults, "\n".join(faults)
    assert tried > 40


@pytest.mark.parametrize("what", ODD)
def test_no_form_breaks_on_odd_typing(what, here, owner):
    faults, before = [], world.rows()
    for form in forms_of(here, owner):
        for name in form.holds:
            answer = send(owner, form, form.holds | {name: ODD[what]}, before)
            faults += [f"{form.action} {name}: {each}" for each in faults_of(answer)]
    assert not faults, "\n".join(faults)


@pytest.mark.parametrize("way", MISSING)
def test_no_form_breaks_on_what_is_missing(way, here, owner):
    faults, before = [], world.rows()
    for form in forms_of(here, owner):
        answer = send(owner, form, MISSING[way](form), before)
        faults += [f"{form.action}: {each}" for each in faults_of(answer)]
    assert not faults, "\n".join(faults)


def test_a_nul_is_turned_away_from_every_form(here, owner):
    let_in, before = [], world.rows()
    for form in forms_of(here, owner):
        typed = dict.fromkeys(form.holds, "a\0b") | {"pressed": "a\0b"}
        answer = send(owner, form, typed, before)
        if (answer.status_code, answer.changed) != (400, []):
            let_in.append((form.action, answer.status_code))
    assert let_in == []


ASKED_FOR = {
    "/diary/": ("on", "weeks"),
    "/search/": ("q",),
    "/jobs/": ("stage", "q", "before"),
    "/customers/": ("q", "after"),
    "/customers/suggest/": ("name", "phone", "postcode"),
    "/visits/times/": ("visit_person", "postcode"),
    "/tomorrow/": ("crew",),
    "jobs:when": ("as_if_on",),
    "quotes:room-new": ("shape",),
    "quotes:opening-new": ("on",),
    "invoices:payment-new": ("bill",),
}


@pytest.mark.parametrize("page", ASKED_FOR)
def test_no_address_breaks_on_what_is_asked_after_it(page, here, owner):
    url = here.url(page) if ":" in page else page
    faults = []
    for name in ASKED_FOR[page]:
        for what, words in (NO_FIGURE | NO_DAY | ODD | {"nul": "a\0b"}).items():
            answer = owner.get(url, {name: words})
            if answer.status_code >= 500 or "<svg/onload" in answer.content.decode():
                faults.append(f"{url}?{name}={what}: {answer.status_code}")
    assert not faults, "\n".join(faults)


def test_every_day_stands_in_the_page_as_a_browser_reads_it(here, owner):
    """A date field shows a value of any other shape as empty, and sends nothing."""
    filled_in = re.compile(r'<input type="date"[^>]*value="([^"]*)"')
    days = [
        (url, day)
        for url in pages_of(here)
        for day in filled_in.findall(owner.get(url).content.decode("utf8", "replace"))
    ]
    assert len(days) >= 4
    iso = re.compile(r"\d{4}-\d\d-\d\d")
    assert [found for found in days if not iso.fullmatch(found[1])] == []
