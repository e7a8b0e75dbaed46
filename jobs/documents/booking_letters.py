"""What a customer is told about the days of their job: plain words, no prices."""

from collections.abc import Sequence

from firm.models import Firm
from firm.queries.firm import the_firm
from firm.templatetags.figures import clock, phone
from jobs.engine.slot_words import run_words
from jobs.engine.slots import STARTS_AT, Half
from jobs.models import Booking, Job

BEFORE_WE_COME = (
    "Before we come: the room clear or the furniture in the middle, a way in, water"
    " and a socket. Whoever works before us should be out."
)


def write(kind: str, booking: Booking, halves: Sequence[Half]) -> tuple[str, str]:
    """Return subject and words of a letter: booked, moved, off or tomorrow."""
    firm = the_firm()
    subject, lines = _WORDS[kind](booking.job, halves)
    return subject, _letter(booking.job, lines, firm)


def _booked(job: Job, halves: Sequence[Half]) -> tuple[str, list[str]]:
    first = halves[0]
    return f"We are coming on {first.on:%A} {first.on.day} {first.on:%B}", [
        f"Your job is in our diary: {job.what.lower()} at {_place(job)}.",
        _days(halves),
        BEFORE_WE_COME,
    ]


def _moved(job: Job, halves: Sequence[Half]) -> tuple[str, list[str]]:
    return "Your days with us have changed", [
        f"The days for your job have moved: {job.what.lower()} at {_place(job)}.",
        _days(halves),
    ]


def _off(job: Job, _: Sequence[Half]) -> tuple[str, list[str]]:
    return "Your days with us are called off", [
        (
            f"We are not coming on the days we told you for {_place(job)}."
            " We will ring you about new ones."
        ),
    ]


def _tomorrow(job: Job, halves: Sequence[Half]) -> tuple[str, list[str]]:
    first = halves[0]
    return f"We come on {first.on:%A} at {_starts(first)}", [
        (
            f"We start at {_starts(first)} on {first.on:%A} {first.on.day}"
            f" {first.on:%B}: {job.what.lower()} at {_place(job)}."
        ),
        BEFORE_WE_COME,
        (
            "Wet plaster and cement burn skin and eyes: keep children and animals out"
            " of the room until it has set. (The bag's safety sheet says more.)"
        ),
    ]


_WORDS = {"booked": _booked, "moved": _moved, "off": _off, "tomorrow": _tomorrow}


def _days(halves: Sequence[Half]) -> str:
    return f"When: {run_words(halves)}. We start at {_starts(halves[0])}."


def _starts(half: Half) -> str:
    return clock(STARTS_AT[half.half])


def _place(job: Job) -> str:
    return job.site.address.splitlines()[0]


def _letter(job: Job, lines: Sequence[str], firm: Firm) -> str:
    paragraphs = [
        f"Dear {job.customer.name},",
        *lines,
        f"If that does not suit, ring us on {phone(firm.phone)}.",
        firm.name,
    ]
    return "\n\n".join(paragraphs) + "\n"
