"""The one command, as a person runs it: started, used, stopped, started again."""

import os
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from django.conf import settings

from firm.management.household import answers
from firm.management.services import free_port
from tests.firm.workers import eventually

pytestmark = pytest.mark.slow
PATIENCE_SECONDS = 120
OPEN = "Ctrl-C ends it."


def clean_environment(home: Path) -> dict[str, str]:
    kept_out = ("FIRM_", "DJANGO_")
    clean = {k: v for k, v in os.environ.items() if not k.startswith(kept_out)}
    return {**clean, "FIRM_HOME": str(home), "FIRM_BOOTSTRAP": "0"}


class Started:
    """One `manage.py start` in a home of its own."""

    def __init__(self, home: Path, **environment: str) -> None:
        self.home = home
        self.port = free_port()
        self.output = (home / f"output-{self.port}").open("w+b")
        self.process = subprocess.Popen(
            [sys.executable, "manage.py", "start", "--port", str(self.port)],
            cwd=settings.BASE_DIR,
            env={**clean_environment(home), **environment},
            stdout=self.output,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
        )

    @property
    def printed(self) -> str:
        return (self.home / f"output-{self.port}").read_text()

    def wait_until_open(self) -> None:
        assert eventually(
            lambda: OPEN in self.printed or self.process.poll() is not None,
            seconds=PATIENCE_SECONDS,
        )
        assert self.process.poll() is None, self.printed

    def status(self, path: str) -> int:
        try:
            page = urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}")
        except urllib.error.HTTPError as refused:
            return refused.code
        with page:
            return int(page.status)

    def children(self) -> list[int]:
        tasks = Path(f"/proc/{self.process.pid}/task")
        lists = [file.read_text() for file in tasks.glob("*/children")]
        return [int(pid) for line in lists for pid in line.split()]

    def end(self, number: int = signal.SIGINT) -> float:
        began = time.monotonic()
        self.process.send_signal(number)
        self.process.wait(timeout=20)
        return time.monotonic() - began


@pytest.fixture(scope="module")
def settled(tmp_path_factory) -> Path:
    """A home with its tables and an owner, so that no demo firm is planted in it."""
    home = tmp_path_factory.mktemp("settled")
    settle = (
        "import django; django.setup()\n"
        "from django.core.management import call_command\n"
        "from firm.models import Person\n"
        "call_command('migrate', verbosity=0)\n"
        "Person.objects.create_user('olive@example.com', name='Olive', role='owner')"
    )
    surroundings = {"DJANGO_SETTINGS_MODULE": "firm.settings"}
    subprocess.run(
        [sys.executable, "-c", settle],
        cwd=settings.BASE_DIR,
        env={**clean_environment(home), **surroundings},
        check=True,
    )
    return home


@pytest.fixture
def home(settled, tmp_path):
    shutil.copytree(settled, tmp_path, dirs_exist_ok=True)
    return tmp_path


@pytest.fixture
def begin():
    """Start as often as a test needs; whatever it leaves running is ended."""
    running: list[Started] = []

    def begin_one(home: Path, **environment: str) -> Started:
        running.append(Started(home, **environment))
        return running[-1]

    yield begin_one
    for started in running:
        if started.process.poll() is None:
            started.end()
        started.output.close()


def is_alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    status = Path(f"/proc/{pid}/status")
    return status.exists() and "State:\tZ" not in status.read_text()


def leave_letter(home: Path, key: str) -> None:
    """Leave a letter by hand, as another process's commit does."""
    now = "2026-01-05 09:00:00"
    with sqlite3.connect(home / "firm.sqlite3", timeout=20) as database:
        database.execute(
            "INSERT INTO firm_notice (key, kind, to_name, to_address, subject, text,"
            " about_kind, about_id, message_id, made_at, due_at, next_try_at, state,"
            " why, claim, tries) VALUES (?, 'test', 'Ana', 'ana@example.com', 'Visit',"
            " 'At nine.', 'job', 1, ?, ?, ?, ?, 'waiting', '', 0, 0)",
            (key, f"<{key}@example.com>", now, now, now),
        )
    database.close()


def letter_state(home: Path, key: str) -> str:
    with sqlite3.connect(home / "firm.sqlite3", timeout=20) as database:
        found = database.execute("SELECT state FROM firm_notice WHERE key = ?", (key,))
        state = found.fetchone()[0]
    database.close()
    return str(state)


def test_start_opens_the_pages_sends_letters_and_stops_on_ctrl_c(tmp_path, begin):
    home = tmp_path
    started = begin(home)
    started.wait_until_open()
    assert f"http://127.0.0.1:{started.port}/" in started.printed
    assert re.search(r"Owner +\S+@example\.com", started.printed)
    assert started.status("/sign-in/") == 200
    assert eventually(lambda: started.status("/health/") == 200)
    leave_letter(home, "byhand")
    assert eventually(lambda: letter_state(home, "byhand") == "sent")
    assert (home / "post" / "byhand.eml").read_text().count("At nine.") == 1
    assert started.end() < 5
    assert started.process.returncode == 0


def test_a_second_start_finds_everything_as_it_was(home, begin):
    first = begin(home)
    first.wait_until_open()
    leave_letter(home, "kept")
    assert eventually(lambda: letter_state(home, "kept") == "sent")
    first.end()
    second = begin(home)
    second.wait_until_open()
    assert letter_state(home, "kept") == "sent"
    assert [file.name for file in (home / "post").glob("kept*")] == ["kept.eml"]


def test_two_starts_in_one_home_are_one_too_many(home, begin):
    first = begin(home)
    first.wait_until_open()
    second = subprocess.run(
        [sys.executable, "manage.py", "start", "--port", str(free_port())],
        cwd=settings.BASE_DIR,
        env=clean_environment(home),
        capture_output=True,
        text=True,
        check=False,
    )
    assert second.returncode == 1
    assert "has already been started from this home" in second.stderr


def test_children_end_when_the_parent_is_killed(home, begin):
    started = begin(home)
    started.wait_until_open()
    children = started.children()
    assert len(children) == 2
    started.end(signal.SIGKILL)
    assert eventually(lambda: not any(map(is_alive, children)), seconds=15)
    assert eventually(lambda: not answers(started.port), seconds=15)


def test_a_worker_that_dies_is_brought_back(home, begin):
    started = begin(home)
    started.wait_until_open()
    assert eventually(lambda: started.status("/health/") == 200)
    for child in started.children():
        if "work" in Path(f"/proc/{child}/cmdline").read_text().split("\0"):
            os.kill(child, signal.SIGKILL)
    leave_letter(home, "after")
    assert eventually(lambda: letter_state(home, "after") == "sent")
