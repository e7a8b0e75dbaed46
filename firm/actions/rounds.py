"""The rounds that the clock makes every minute."""

from collections.abc import Callable
from datetime import datetime

# A round finds what is due by `<= now`, so a missed night is caught up, and
# names its letters by key, so a second run changes nothing.
Round = Callable[[datetime], object]
_rounds: dict[str, Round] = {}


def register_round(name: str, function: Round) -> None:
    _rounds[name] = function


def all_rounds() -> dict[str, Round]:
    return dict(_rounds)
