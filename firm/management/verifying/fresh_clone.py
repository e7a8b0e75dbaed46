"""The firm as a stranger gets it: a clone, one command, and Ctrl-C."""

import contextlib
import re
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread

from firm.management.services import free_port
from firm.management.verifying.step import PROJECT, Outcome, Surroundings

ADDRESS = re.compile(r"http://127\.0\.0\.1:\d+")
LONGEST_START_SECONDS = 600
LONGEST_STOP_SECONDS = 20


class NotAsPromised(Exception):
    """The started firm did not do what the README says."""


@dataclass(kw_only=True)
class Started:
    """A running start command, and all it has said so far."""

    process: subprocess.Popen[str]
    began_at: float = field(default_factory=time.monotonic)
    said: list[str] = field(default_factory=list)

    def listen(self) -> None:
        self.said.extend(self.process.stdout or ())

    def address(self) -> str:
        """Wait for the address that is printed once the pages answer."""
        while time.monotonic() < self.began_at + LONGEST_START_SECONDS:
            if found := ADDRESS.search("".join(self.said)):
                return found[0]
            if self.process.poll() is not None:
                raise NotAsPromised("start ended before it printed an address.")
            time.sleep(0.05)
        raise NotAsPromised("start printed no address.")


def start_and_stop(surroundings: Surroundings) -> Outcome:
    """Start a fresh clone twice; the second start must find the first one's firm."""
    said: list[str] = []
    with tempfile.TemporaryDirectory(prefix="firm-clone-") as name:
        folder = Path(name)
        clone, home = folder / "clone", folder / "home"
        subprocess.run(["git", "clone", "--quiet", PROJECT, clone], check=True)  # noqa: S607 - any git will do
        clean = {**surroundings, "FIRM_HOME": str(home)}
        del clean["FIRM_BOOTSTRAP"]
        try:
            cold = open_and_close(clone, clean, said)
            planted = what_is_kept(home)
            warm = open_and_close(clone, clean, said)
            if what_is_kept(home) != planted:
                raise NotAsPromised("the second start found another firm.")
        except NotAsPromised as fault:
            return Outcome(held=False, said="".join([*said, str(fault)]))
    times = (
        f"first page {cold:.1f} s after the first start, {warm:.1f} s after the next"
    )
    return Outcome(held=True, said=times)


def open_and_close(clone: Path, surroundings: Surroundings, said: list[str]) -> float:
    """Start, look at the sign-in page, press Ctrl-C; answer the seconds to the page."""
    with running(clone, surroundings) as started:
        try:
            look_at_the_door(started.address())
            seconds = time.monotonic() - started.began_at
            started.process.send_signal(signal.SIGINT)
            code = started.process.wait(LONGEST_STOP_SECONDS)
        except (OSError, subprocess.TimeoutExpired) as fault:
            raise NotAsPromised(str(fault)) from fault
        finally:
            said.extend(started.said)
    if code != 0:
        raise NotAsPromised(f"Ctrl-C ended it with {code} instead of 0.")
    return seconds


@contextlib.contextmanager
def running(clone: Path, surroundings: Surroundings) -> Iterator[Started]:
    # The machine's own Python, not the environment that verify runs in.
    python = str(Path(sys.executable).resolve())
    process = subprocess.Popen(
        [python, "manage.py", "start", "--port", str(free_port())],
        cwd=clone,
        env=surroundings,
        text=True,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )
    started = Started(process=process)
    listener = Thread(target=started.listen, daemon=True)
    listener.start()
    try:
        yield started
    finally:
        process.kill()
        process.wait()
        listener.join(timeout=5)


def look_at_the_door(address: str) -> None:
    with urllib.request.urlopen(address, timeout=20) as page:  # noqa: S310 - ADDRESS holds it to http on loopback
        text = page.read().decode()
    if 'type="password"' not in text:
        raise NotAsPromised(f"{address} shows no sign-in page.")


def what_is_kept(home: Path) -> dict[str, str]:
    """Read what makes it the same firm: its secret, its people and its jobs."""
    database = f"file:{home / 'firm.sqlite3'}?mode=ro"
    with contextlib.closing(sqlite3.connect(database, uri=True)) as rows:
        # The clock's own person appears when the worker first needs it.
        people = rows.execute(
            "SELECT id, email FROM firm_person WHERE role <> 'clock' ORDER BY id"
        ).fetchall()
        jobs = rows.execute("SELECT id FROM jobs_job ORDER BY id").fetchall()
    if not people or not jobs:
        raise NotAsPromised("the first start planted no people or no jobs.")
    secret = (home / "secret").read_text()
    return {"secret": secret, "people": repr(people), "jobs": repr(jobs)}
