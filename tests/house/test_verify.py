"""The checks themselves: what counts as held, and servers that end with us."""

import os
import signal
import socket
import subprocess
import sys
import tempfile
import time
from io import StringIO
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from django.core.management import call_command

from firm.management.services import NotInstalled, find_program, redis_server
from firm.management.verifying.homes import Homes
from firm.management.verifying.plan import STEPS
from firm.management.verifying.step import (
    PROJECT,
    Outcome,
    one_after_another,
    quietly,
)

HOLD_A_SERVER = """
import time
from firm.management.services import redis_server
with redis_server() as url:
    print(url, flush=True)
    time.sleep(60)
"""


@pytest.mark.parametrize(
    ("said", "passed"),
    [
        ("..\n====== 12 passed in 0.31s ======\n", 12),
        ("..F\n1 failed, 7 passed, 2 deselected in 1.20s\n", 7),
        ("no tests ran in 0.01s\n", 0),
        ("", 0),
    ],
)
def test_the_tally_is_read_from_the_last_line(said, passed):
    assert Outcome(held=True, said=said).passed == passed


def test_a_command_holds_when_it_ends_with_nought():
    good = quietly(sys.executable, "-c", "print('fine')")({})
    bad = quietly(sys.executable, "-c", "raise SystemExit('broken')")({})
    assert (good.held, good.said) == (True, "fine\n")
    assert (bad.held, bad.said) == (False, "broken\n")


def test_a_part_after_a_failed_one_is_not_done():
    fails = quietly(sys.executable, "-c", "raise SystemExit('first')")
    speaks = quietly(sys.executable, "-c", "print('second')")
    assert one_after_another(fails, speaks)({}).said == "first\n"
    assert one_after_another(speaks, fails)({}).said == "first\n"


def test_each_step_stands_once_in_each_home_it_runs_in():
    titles = [step.title for step in STEPS]
    assert len(set(titles)) == len(titles)
    assert [title for title in titles if title.startswith("tests")] == [
        "tests, embedded home",
        "tests, served home",
    ]


def test_steps_know_nothing_of_the_developers_own_firm(monkeypatch):
    monkeypatch.setenv("FIRM_SECRET_KEY", "mine")
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "firm.settings")
    with Homes() as homes, homes.surroundings("embedded") as surroundings:
        ours = {name for name in surroundings if name.startswith(("FIRM_", "DJANGO_"))}
    assert ours == {"FIRM_BOOTSTRAP", "FIRM_HOME"}


def test_tests_run_by_their_own_settings():
    assert settings.SETTINGS_MODULE == "tests.settings"
    assert settings.FIRM_HOME.name.startswith("firm-tests-")


def run_only(step: str, monkeypatch, **environment: str) -> str:
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    told = StringIO()
    call_command("verify", only=step, stdout=told)
    return told.getvalue()


def test_a_missing_program_leaves_a_step_out_and_says_so(monkeypatch):
    monkeypatch.delenv("CI", raising=False)
    told = run_only("clone", monkeypatch, PATH="/nowhere")
    assert "git is not installed on this machine." in told
    assert "Left out: clone." in told


def test_a_missing_program_fails_under_ci(monkeypatch):
    with pytest.raises(SystemExit) as ended:
        run_only("clone", monkeypatch, PATH="/nowhere", CI="true")
    assert ended.value.code == 1


def test_an_unknown_program_is_refused_by_name():
    with pytest.raises(NotInstalled, match="no-such-program is not installed"):
        find_program("no-such-program")


def answers(url: str) -> bool:
    place = urlsplit(url)
    try:
        with socket.create_connection((place.hostname, place.port), timeout=1):
            return True
    except OSError:
        return False


@pytest.mark.served
@pytest.mark.slow
def test_a_server_of_ours_ends_with_its_block():
    with redis_server() as url:
        assert answers(url)
    assert not answers(url)


@pytest.fixture
def open_folder():
    """A folder that the unprivileged user of a server may walk through."""
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o711)  # noqa: S103 - it must be walked through
        yield folder


@pytest.mark.served
@pytest.mark.slow
def test_a_server_ends_even_when_its_owner_is_killed(open_folder):
    owner = subprocess.Popen(
        [sys.executable, "-c", HOLD_A_SERVER],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(PROJECT), "TMPDIR": open_folder},
    )
    url = owner.stdout.readline().strip()
    assert answers(url)
    owner.send_signal(signal.SIGKILL)
    owner.wait()
    owner.stdout.close()
    last_moment = time.monotonic() + 5
    while answers(url) and time.monotonic() < last_moment:
        time.sleep(0.05)
    assert not answers(url)
