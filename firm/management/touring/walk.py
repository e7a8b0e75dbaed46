"""The one job that the tour follows, what it says and what it holds it to."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from textwrap import wrap
from typing import Any

from django.utils.timezone import localtime

from firm.engine.refusal import Refused
from firm.management.demo.days import Days
from firm.management.demo.opening_day import Cast
from firm.management.touring.post import Arrived, Post
from firm.templatetags.figures import clock, short_day

PAGE = 88


class Surprise(Exception):
    """Something came out otherwise than it must."""


@dataclass(slots=True, kw_only=True)
class Walk:
    """Where the tour stands; rows are of the apps above, which have no type here."""

    tell: Callable[[str], object]
    days: Days
    cast: Cast
    post: Post
    checked: int = 0
    letters: int = 0
    job: Any = None
    version: Any = None
    booking: Any = None
    bill: Any = None

    def step(self, number: int, title: str, at: datetime) -> None:
        when = f"{short_day(localtime(at).date())}, {clock(at)}"
        self.tell("")
        self.tell(f"{f'{number}. {title}':<{PAGE - len(when)}}{when}")

    def say(self, words: str, *, indent: str = "   ") -> None:
        """Say it in lines of a page's width; what runs on stands in a little."""
        inside = indent + " " * 4
        for line in wrap(words, PAGE, initial_indent=indent, subsequent_indent=inside):
            self.tell(line)

    def holds(self, is_so: object, sentence: str) -> None:
        """Say a thing that must be so; a surprise ends the tour."""
        if not is_so:
            raise Surprise(f"This is not so: {sentence}.")
        self._note(sentence)

    def _note(self, sentence: str) -> None:
        self.checked += 1
        self.say(f"ok  {sentence}")

    def refused(self, act: Callable[[], object], sentence: str) -> None:
        """Say that a thing is refused, and hold it to the refusal."""
        try:
            act()
        except Refused:
            self._note(sentence)
        else:
            raise Surprise(f"This was let through: {sentence}.")

    def work_the_tray(self, now: datetime) -> list[Arrived]:
        """Print and send what is due, and name what came of it."""
        for paper in self.post.print_due(now=now):
            self.tell(f"   paper   {paper.title}, {paper.kilobytes} kB")
            self.tell(f"           {paper.file}")
        letters = self.post.send_due(now=now)
        for letter in letters:
            beside = f", with {letter.attached}" if letter.attached else ""
            self.say(f"letter  to {letter.to}: “{letter.subject}”{beside}")
        self.letters += len(letters)
        return letters
