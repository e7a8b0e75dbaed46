"""The processes of one home: started together, watched, ended together."""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from types import FrameType

from firm.engine.refusal import Refused
from firm.management import leash

READY_SECONDS = 60
GRACE_SECONDS = 3.0
# Started so often within a minute, a process will not get better by itself.
MOST_STARTS = 5


class Child:
    """One process that is started again when it ends by itself."""

    def __init__(self, *arguments: str, project: Path, lead: int) -> None:
        self.arguments = arguments
        self.project = project
        self.lead = lead
        self.starts: list[float] = []
        self.start()

    def start(self) -> None:
        now = time.monotonic()
        self.starts = [at for at in self.starts if now - at < 60] + [now]
        self.process = subprocess.Popen(
            [sys.executable, str(self.project / "manage.py"), *self.arguments],
            cwd=self.project,
            env={**os.environ, leash.VARIABLE: str(self.lead), "FIRM_BOOTSTRAP": "0"},
            stdin=subprocess.DEVNULL,
            pass_fds=[self.lead],
            # Ctrl-C at the terminal is for the parent, which ends us in order.
            start_new_session=True,
        )

    def look_after(self) -> None:
        if self.process.poll() is None:
            return
        if len(self.starts) >= MOST_STARTS:
            raise Refused(
                f"“{self.arguments[0]}” ended {MOST_STARTS} times within a minute."
                " What went wrong stands above."
            )
        self.start()


class Household:
    def __init__(self, project: Path, lead: int) -> None:
        self.project = project
        self.lead = lead
        self.children: list[Child] = []
        self.is_told_to_stop = False

    def add(self, *arguments: str) -> Child:
        child = Child(*arguments, project=self.project, lead=self.lead)
        self.children.append(child)
        return child

    def wait_for(self, port: int, child: Child) -> bool:
        """Wait until the web server answers; no when told to stop meanwhile."""
        last_moment = time.monotonic() + READY_SECONDS
        while time.monotonic() < last_moment and not self.is_told_to_stop:
            if child.process.poll() is not None:
                raise Refused("The web server did not start. The reason stands above.")
            if answers(port):
                return True
            time.sleep(0.05)
        if not self.is_told_to_stop:
            raise Refused(f"The web server did not answer within {READY_SECONDS} s.")
        return False

    def look_after(self) -> None:
        """Stay until told to stop, and bring back what ends by itself."""
        while not self.is_told_to_stop:
            for child in self.children:
                child.look_after()
            time.sleep(0.1)

    def end(self) -> None:
        for child in self.children:
            child.process.terminate()
        last_moment = time.monotonic() + GRACE_SECONDS
        for child in self.children:
            with contextlib.suppress(subprocess.TimeoutExpired):
                child.process.wait(max(0.01, last_moment - time.monotonic()))
        for child in self.children:
            # The tray is the truth: what is cut off here is found again.
            child.process.kill()
            child.process.wait()


@contextlib.contextmanager
def gathered(project: Path) -> Iterator[Household]:
    """Keep a household until Ctrl-C, a signal or a fault ends it."""
    with leash.held() as lead:
        household = Household(project, lead)

        def stop(_signal: int, _frame: FrameType | None) -> None:
            household.is_told_to_stop = True

        before = {
            number: signal.signal(number, stop)
            for number in (signal.SIGINT, signal.SIGTERM)
        }
        try:
            yield household
        finally:
            household.end()
            for number, handler in before.items():
                signal.signal(number, handler)


def answers(port: int) -> bool:
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=0.5):
            return True
    except OSError:
        return False
