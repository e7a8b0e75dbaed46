"""One thing that must hold, and how it turned out."""

import re
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[3]
PASSED = re.compile(r"\b(\d+) passed\b")

Surroundings = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    held: bool
    said: str
    is_shown: bool = False

    @property
    def last_line(self) -> str:
        lines = self.said.strip().splitlines()
        return lines[-1].strip(" =") if lines else ""

    @property
    def passed(self) -> int:
        found = PASSED.search(self.last_line)
        return int(found[1]) if found else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    name: str
    do: Callable[[Surroundings], Outcome]
    home: str = "embedded"
    needs: tuple[str, ...] = ()
    is_long: bool = False

    @property
    def title(self) -> str:
        return f"{self.name}, {self.home} home" if self.comes_twice else self.name

    @property
    def comes_twice(self) -> bool:
        return self.name in {"tests", "browser", "tour"}


def quietly(*command: str) -> Callable[[Surroundings], Outcome]:
    """Run a command and keep what it says for the case that it fails."""

    def do(surroundings: Surroundings) -> Outcome:
        done = subprocess.run(
            command,
            cwd=PROJECT,
            env=surroundings,
            check=False,
            text=True,
            errors="replace",
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
        )
        return Outcome(held=done.returncode == 0, said=done.stdout)

    return do


def aloud(*command: str) -> Callable[[Surroundings], Outcome]:
    """Run a command and pass on each line as it comes."""

    def do(surroundings: Surroundings) -> Outcome:
        said: list[str] = []
        with subprocess.Popen(
            command,
            cwd=PROJECT,
            env=surroundings,
            text=True,
            errors="replace",
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
        ) as running:
            for line in running.stdout or ():
                said.append(line)
                sys.stdout.write(line)
                sys.stdout.flush()
        held = running.returncode == 0
        return Outcome(held=held, said="".join(said), is_shown=True)

    return do


def one_after_another(
    first: Callable[[Surroundings], Outcome],
    *others: Callable[[Surroundings], Outcome],
) -> Callable[[Surroundings], Outcome]:
    """Do each part in the same surroundings, and stop at the first that fails."""

    def do(surroundings: Surroundings) -> Outcome:
        outcome = first(surroundings)
        for part in others:
            if outcome.held:
                outcome = part(surroundings)
        return outcome

    return do
