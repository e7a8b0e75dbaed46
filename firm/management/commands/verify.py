import os
import signal
import sys
import time
from contextlib import suppress
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from firm.management.services import NotInstalled, find_program
from firm.management.verifying.homes import Homes
from firm.management.verifying.plan import STEPS
from firm.management.verifying.step import Outcome, Step


class Command(BaseCommand):
    help = "Look whether everything holds that must hold: one line a step."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        names = list(dict.fromkeys(step.name for step in STEPS))
        parser.add_argument("--only", choices=names, help="Look at this step alone.")
        parser.add_argument(
            "--home", choices=["embedded", "served"], help="Leave out the other home."
        )
        parser.add_argument(
            "--quick", action="store_true", help="Leave out browser and clone."
        )

    def handle(self, *, only: str, home: str, quick: bool, **options: Any) -> None:
        # Ended from outside, still end the services: as an exception, not at once.
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
        steps = [
            step
            for step in STEPS
            if (not only or step.name == only)
            and (not home or step.home == home or not step.comes_twice)
            and not (quick and step.is_long)
        ]
        began_at = time.monotonic()
        with Homes() as homes:
            outcomes = {step.title: self.look_at(step, homes) for step in steps}
        self.sum_up(outcomes, time.monotonic() - began_at)

    def look_at(self, step: Step, homes: Homes) -> Outcome | None:
        """Do one step and say how it turned out; None when it was left out."""
        began_at = time.monotonic()
        try:
            for program in step.needs:
                find_program(program)
        except NotInstalled as reason:
            self.say("left out", step, 0, str(reason))
            if os.environ.get("CI") == "true":
                return Outcome(held=False, said=str(reason))
            return None
        with homes.surroundings(step.home) as surroundings:
            outcome = step.do(surroundings)
        seconds = time.monotonic() - began_at
        if not outcome.held and not outcome.is_shown:
            self.stdout.write(outcome.said)
        self.say("held" if outcome.held else "FAILED", step, seconds, note(outcome))
        return outcome

    def say(self, verdict: str, step: Step, seconds: float, words: str) -> None:
        self.stdout.write(f"{verdict:<8} {seconds:6.1f} s  {step.title:<22} {words}")
        self.stdout.flush()

    def sum_up(self, outcomes: dict[str, Outcome | None], seconds: float) -> None:
        looked_at = {title: found for title, found in outcomes.items() if found}
        left_out = [title for title, found in outcomes.items() if found is None]
        failed = [title for title, found in looked_at.items() if not found.held]
        if left_out:
            self.stdout.write(f"Left out: {'; '.join(left_out)}.")
        passed = sum(found.passed for found in looked_at.values())
        if failed:
            self.stdout.write(f"Failed: {'; '.join(failed)}.")
        else:
            self.stdout.write("Everything looked at holds.")
        self.stdout.write(f"{len(looked_at)} steps in {seconds:.0f} s, {passed} passed")
        if failed:
            sys.exit(1)


def note(outcome: Outcome) -> str:
    """Show the line that counts: the tests' tally, or the clone's times."""
    with suppress(IndexError):
        line = outcome.last_line
        if outcome.passed or line.startswith("first page"):
            return line
    return ""
