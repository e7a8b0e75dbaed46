"""Who may do what: one function a right, pure, read as a table.

A signed-in person is the only argument; nobody signed in may do nothing here.
"""

from collections.abc import Callable
from typing import Protocol


class Somebody(Protocol):
    role: str
    is_active: bool


Right = Callable[[Somebody], bool]

OWNER, OFFICE, LEAD, CREW, BOOKS, CLOCK = (
    "owner",
    "office",
    "lead",
    "crew",
    "books",
    "clock",
)
DESK = frozenset({OWNER, OFFICE})
TOOLS = frozenset({LEAD, CREW})


def _one_of(person: Somebody, roles: frozenset[str]) -> bool:
    return person.is_active and person.role in roles


def use_the_office(person: Somebody) -> bool:
    return _one_of(person, DESK | TOOLS | {BOOKS})


def take_enquiries(person: Somebody) -> bool:
    return _one_of(person, DESK)


def see_customers(person: Somebody) -> bool:
    return _one_of(person, DESK | {BOOKS})


def look_at_jobs(person: Somebody) -> bool:
    """Measure rooms and say what is on the wall."""
    return _one_of(person, DESK)


def see_prices(person: Somebody) -> bool:
    return _one_of(person, DESK | {BOOKS})


def send_quotes(person: Somebody) -> bool:
    return _one_of(person, DESK)


def book_crews(person: Somebody) -> bool:
    return _one_of(person, DESK)


def see_the_diary(person: Somebody) -> bool:
    return _one_of(person, DESK | {BOOKS})


def order_materials(person: Somebody) -> bool:
    return _one_of(person, DESK)


def see_tomorrow(person: Somebody) -> bool:
    return _one_of(person, DESK | TOOLS)


def finish_jobs(person: Somebody) -> bool:
    return _one_of(person, DESK | {LEAD})


def write_day_notes(person: Somebody) -> bool:
    return _one_of(person, DESK | TOOLS)


def see_money(person: Somebody) -> bool:
    return _one_of(person, DESK | {BOOKS})


def issue_bills(person: Somebody) -> bool:
    return _one_of(person, DESK | {CLOCK})


def enter_payments(person: Somebody) -> bool:
    return _one_of(person, DESK | {BOOKS})


def stop_chasers(person: Somebody) -> bool:
    return _one_of(person, DESK)


def send_chasers(person: Somebody) -> bool:
    return _one_of(person, DESK | {CLOCK})


def see_the_tray(person: Somebody) -> bool:
    return _one_of(person, DESK | {BOOKS})


def work_the_tray(person: Somebody) -> bool:
    """Read, hold, stop or send a waiting letter."""
    return _one_of(person, DESK | {CLOCK})


def run_the_firm(person: Somebody) -> bool:
    """Change the firm's details, people, crews and figures."""
    return _one_of(person, frozenset({OWNER}))


def see_the_firm(person: Somebody) -> bool:
    return _one_of(person, DESK | {BOOKS})
