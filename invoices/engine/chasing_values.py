"""What chasing is asked and what it answers, as plain values."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

StepKey = Literal["copy", "due", "nudge-1", "nudge-2", "firm"]
StopKind = Literal["paid", "disputed", "promised", "paused"]
StepState = Literal["sent", "overtaken", "due_now", "to_come", "stopped"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """What holds the letters: for good, or up to and including a day."""

    kind: StopKind
    until_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """A letter that has left."""

    key: StepKey
    sent_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Chase:
    """The question: one bill, its history, and today.

    `closed_on` are the firm's own days off; weekends and bank holidays are known.
    """

    due_on: date
    today: date
    issued_on: date | None = None
    sent: tuple[Sent, ...] = ()
    stops: tuple[Stop, ...] = ()
    closed_on: tuple[date, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One letter: the day it left or leaves, and why that day."""

    key: StepKey
    on: date
    state: StepState
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chased:
    """The answer: every step, the one that is due today, and the next day to look."""

    steps: tuple[Step, ...]
    due_now: StepKey | None
    next_on: date | None
    working: tuple[str, ...]
