"""The tour, as a person runs it: one job, real papers, real letters, a clean end."""

import os
import re
import subprocess
import sys
from datetime import UTC, datetime
from email import message_from_bytes, policy
from pathlib import Path

import pytest
from django.conf import settings

from firm.engine.refusal import Refused
from firm.management.demo.days import Days
from firm.management.touring.post import Post
from firm.management.touring.tour import walk_one_job
from firm.management.touring.walk import Surprise, Walk

pytestmark = pytest.mark.slow


def toured(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    kept_out = ("FIRM_", "DJANGO_")
    clean = {k: v for k, v in os.environ.items() if not k.startswith(kept_out)}
    return subprocess.run(
        [sys.executable, "manage.py", "tour", *words],
        cwd=settings.BASE_DIR,
        env={**clean, "FIRM_BOOTSTRAP": "0", **environment},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def home(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("tour") / "home"


@pytest.fixture(scope="module")
def tour(home) -> subprocess.CompletedProcess[str]:
    """One tour for the whole module, in a home that is kept."""
    return toured("--into", str(home), FIRM_HOME=str(home.parent / "callers"))


def test_it_takes_nine_steps_and_ends_well(tour):
    assert (tour.returncode, tour.stderr) == (0, "")
    steps = re.findall(r"^(\d)\. ", tour.stdout, flags=re.MULTILINE)
    assert steps == list("123456789")
    assert "Nine steps" in tour.stdout


def test_it_says_each_sum_as_worked_by_hand(tour):
    """Bedroom W1 and its price; the working stands in tests/quotes/test_quote.py."""
    assert "50.195 m² true, 52.56 m² measured through" in tour.stdout
    assert "£865.78 and VAT £173.16: £1,038.94" in tour.stdout
    assert "£1,038.94 came in on" in tour.stdout


def test_it_names_the_papers_that_it_made(tour, home):
    titles = re.findall(r"^   paper   (.+), \d+ kB$", tour.stdout, flags=re.MULTILINE)
    assert titles == ["Quote 1, version 1", "Order 1", "Bill 1"]
    files = re.findall(r"^ +(papers/\S+\.pdf)$", tour.stdout, flags=re.MULTILINE)
    assert len(files) == 3
    for file in files:
        assert (home / file).read_bytes().startswith(b"%PDF")


def test_it_sent_every_letter_that_it_names(tour, home):
    letters = re.findall(r"^   letter  to ", tour.stdout, flags=re.MULTILINE)
    welcomes = int(re.search(r"(\d+) letters welcomed", tour.stdout)[1])
    kept = list((home / "post").glob("*.eml"))
    assert len(kept) == len(letters) + welcomes
    assert "our last reminder" not in tour.stdout


def test_the_reminder_stands_down_when_it_was_paid_a_second_before(tour, home):
    assert re.search(r"paid a second before: .+ stood down, unsent", tour.stdout)
    said = [body_of(file) for file in (home / "post").glob("*.eml")]
    assert sum("is due today" in body for body in said) == 1
    assert sum("was due on" in body for body in said) == 0


def body_of(file: Path) -> str:
    letter = message_from_bytes(file.read_bytes(), policy=policy.default)
    return letter.get_body().get_content()


def test_the_audit_holds_at_the_end(tour):
    assert "invariants, guards and papers hold" in tour.stdout


def test_the_callers_own_home_is_left_alone(tour, home):
    assert not (home.parent / "callers" / "firm.sqlite3").exists()


def test_a_folder_with_something_in_it_is_no_fresh_home(tour, home):
    again = toured("--into", str(home))
    assert again.returncode == 1
    assert "is not empty" in again.stderr


def test_a_database_with_a_firm_is_left_as_it_is(tour, home, tmp_path):
    database = home / "firm.sqlite3"
    before = database.read_bytes()
    again = toured(
        "--into", str(tmp_path / "new"), FIRM_DATABASE_URL=f"sqlite:///{database}"
    )
    assert again.returncode == 1
    assert "There is a firm in this home already" in again.stderr
    assert database.read_bytes() == before


def test_no_letter_of_the_tour_goes_to_a_real_mail_server(tmp_path):
    refused = toured(
        "--into", str(tmp_path / "new"), FIRM_SMTP_URL="smtp://127.0.0.1:2525"
    )
    assert refused.returncode == 1
    assert "FIRM_SMTP_URL names a mail server" in refused.stderr


# The day before a Christmas with its substitute day, and before a long Easter.
@pytest.mark.django_db
@pytest.mark.parametrize(
    "now",
    [
        datetime(2026, 12, 24, 23, 55, tzinfo=UTC),
        datetime(2027, 3, 25, 3, 10, tzinfo=UTC),
    ],
)
def test_it_comes_through_holidays(now):
    said: list[str] = []
    walk_one_job(tell=said.append, now=now)
    assert "28 things as they must be" in said[-1]
    with pytest.raises(Refused, match="a firm in this home already"):
        walk_one_job(tell=said.append, now=now)


def test_a_surprise_ends_it_and_is_not_counted(tmp_path):
    said: list[str] = []
    now = datetime(2026, 6, 10, 9, 0, tzinfo=UTC)
    walk = Walk(tell=said.append, days=Days(now), cast=None, post=Post(tmp_path))
    walk.holds(1 + 1 == 2, "one and one are two")
    with pytest.raises(Surprise, match="This is not so: one and one are three"):
        walk.holds(1 + 1 == 3, "one and one are three")
    with pytest.raises(Surprise, match="This was let through: nothing"):
        walk.refused(lambda: None, "nothing")
    assert (said, walk.checked) == (["   ok  one and one are two"], 1)
