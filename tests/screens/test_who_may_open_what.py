"""Every address × everybody × both verbs, asked one by one and compared."""

import copy
import logging
import re
import sys
from collections.abc import Iterator

import pytest
import time_machine
from django.db import transaction
from django.http import HttpResponse
from django.test import Client

from tests import make
from tests.screens import world
from tests.screens.table import TABLE, WHO, cells, written

DOOR = "/sign-in/?next="
UNKNOWN_FIELD = {"pressed": "1"}
REFUSED = {"in", "403", "404", "405", "422"}
# Somebody may look at these pages and yet not press: what is sent is in order, so it
# is the right alone that refuses.
MAY_LOOK_NOT_PRESS = [
    ("books", "invoices:bill-hold", {"kind": "pause", "words": "Away until May"}),
    ("books", "invoices:bill-lift", {}),
    ("books", "quotes:quote-write", {"vat_kind": "standard"}),
    *(
        (
            who,
            "quotes:rates",
            {
                "plasterer_hour_gbp": "99.00",
                "labourer_hour_gbp": "99.00",
                "overhead_pct": "1.00",
                "margin_pct": "1.00",
                "minimum_charge_gbp": "1.00",
            },
        )
        for who in ("office", "books")
    ),
]
FOR_THE_CREW = ("jobs:sheet", "jobs:note-new", "jobs:finish")

pytestmark = [pytest.mark.slow, pytest.mark.django_db]


@pytest.fixture(scope="module", autouse=True)
def quiet() -> Iterator[None]:
    """Two thousand refusals are meant here, and need no line each in the log."""
    logging.disable(logging.CRITICAL)
    yield
    logging.disable(logging.NOTSET)


@pytest.fixture(scope="module")
def seen() -> Iterator[dict[tuple[str, str, str], str]]:
    """Collect what was answered, and print it when everybody has asked."""
    answers: dict[tuple[str, str, str], str] = {}
    yield answers
    if len(answers) == len(cells()):
        sys.stdout.write("\n" + written(answers) + "\n")


@pytest.fixture
def here() -> Iterator[world.World]:
    with time_machine.travel(make.NOW, tick=False):
        yield world.build()


def ask(browser: Client, verb: str, url: str, typed: dict[str, str]) -> HttpResponse:
    """Ask once; whatever the answer did to the browser or the rows is undone."""
    before, cookies = world.rows(), copy.deepcopy(browser.cookies)
    with transaction.atomic():
        answer = browser.get(url) if verb == "GET" else browser.post(url, typed)
        answer.changed = world.changed(before)
        transaction.set_rollback(True)
    browser.cookies = cookies
    return answer


def code_of(answer: HttpResponse) -> str:
    sent_to = answer.headers.get("Location", "")
    return "in" if sent_to.startswith(DOOR) else str(answer.status_code)


def test_the_table_names_every_address_and_no_other():
    named = {name for name, _, _ in cells()}
    assert named == {name for name, _ in world.addresses()}


def test_the_table_reads_back_as_it_is_written():
    assert written(cells()).splitlines() == TABLE.rstrip().splitlines()[1:]


@pytest.mark.parametrize("who", WHO)
def test_each_gets_what_the_table_says_and_a_refusal_changes_nothing(who, here, seen):
    browser, surprises = world.visitor(here, who), []
    for (name, verb, asker), expected in cells().items():
        if asker != who:
            continue
        answer = ask(browser, verb, here.url(name), UNKNOWN_FIELD)
        code = seen[name, verb, who] = code_of(answer)
        if code != expected:
            surprises.append(f"{verb} {name}: {code}, not {expected}")
        if (verb == "GET" or code in REFUSED) and answer.changed:
            surprises.append(f"{verb} {name}: {code}, yet changed {answer.changed}")
    assert surprises == []


@pytest.mark.parametrize(("who", "name", "typed"), MAY_LOOK_NOT_PRESS)
def test_who_may_only_look_is_refused_though_the_typing_is_right(
    who, name, typed, here
):
    refused = ask(world.visitor(here, who), "POST", here.url(name), typed)
    assert (refused.status_code in {403, 422}, refused.changed) == (True, [])
    assert re.search(r"Only the (office|owner)", refused.content.decode())


@pytest.mark.parametrize(
    ("who", "name", "typed"),
    [
        ("office", "invoices:bill-hold", {"kind": "pause", "words": "Away until May"}),
        ("office", "quotes:quote-write", {"vat_kind": "standard"}),
        ("owner", "quotes:rates", MAY_LOOK_NOT_PRESS[-1][2]),
    ],
)
def test_the_same_typing_is_taken_from_those_who_may(who, name, typed, here):
    taken = ask(world.visitor(here, who), "POST", here.url(name), typed)
    assert taken.status_code == 303
    assert taken.changed != []


@pytest.mark.parametrize("who", ["lead", "crew"])
@pytest.mark.parametrize("name", FOR_THE_CREW)
def test_another_crews_job_is_not_found(who, name, here):
    verb = "GET" if name == "jobs:sheet" else "POST"
    here.places[name]["job_id"] = here.foreign_job
    typed = {"words": "A note that is in order."}
    answer = ask(world.visitor(here, who), verb, here.url(name), typed)
    assert (answer.status_code, answer.changed) == (404, [])


def secrets_heard(who: str, here: world.World) -> set[str]:
    """Return which secrets any answer to somebody holds, headers included."""
    browser, heard = world.visitor(here, who), set()
    for name, verb, _ in (cell for cell in cells() if cell[2] == who):
        answer = ask(browser, verb, here.url(name), UNKNOWN_FIELD)
        said = f"{answer.headers} {answer.content.decode(errors='replace')}"
        heard |= {what for what, secret in world.SECRETS.items() if secret in said}
    return heard


def test_people_on_the_tools_never_hear_a_price_or_an_address(here):
    assert secrets_heard("lead", here) == set()
    assert secrets_heard("crew", here) == set()


def test_the_owner_hears_every_secret_so_they_were_planted(here):
    # The job page and the customer's page show the rest; these two are of other jobs.
    here.places["jobs:job"]["job_id"] = here.places["jobs:sheet"]["job_id"]
    here.places["quotes:quote"]["job_id"] = here.places["jobs:sheet"]["job_id"]
    assert secrets_heard("owner", here) == set(world.SECRETS)
