"""The parts of the job page, each built by the app that owns it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from firm.models import Person
from jobs.models import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One part of the page: a heading, a template with its values, one way on.

    The template is included with ``job``, ``person`` and ``section`` (so
    ``section.context.rows``) and holds no heading of its own.
    """

    title: str
    template: str
    context: Mapping[str, Any] = field(default_factory=dict)
    link_text: str = ""
    link_url: str = ""


Builder = Callable[[Job, Person], Section | None]
_builders: dict[str, tuple[int, Builder]] = {}


def register_section(name: str, order: int, build: Builder) -> None:
    """Add a part to the page; called by an app when it loads.

    The look is 10, the quote 20, the diary 30, materials 40, day notes 50, bills 60.
    """
    _builders[name] = (order, build)


def sections_for(job: Job, person: Person) -> list[tuple[str, Section]]:
    """Return the parts that this person may see, in order, each with its name."""
    in_order = sorted(_builders.items(), key=lambda entry: (entry[1][0], entry[0]))
    built = [(name, build(job, person)) for name, (_, build) in in_order]
    return [(name, section) for name, section in built if section is not None]
