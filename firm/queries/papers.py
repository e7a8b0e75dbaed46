"""Read a kept paper back, and refuse one that is not what was printed."""

import hashlib
from collections.abc import Callable
from pathlib import Path

from django.conf import settings

from firm.engine.refusal import Refused
from firm.models import Paper, Person

# Who may read a kind of paper; the app that owns the kind says so when it loads.
Reader = Callable[[Person, int], bool]
_readers: dict[str, Reader] = {}


def register_reader(kind: str, function: Reader) -> None:
    _readers[kind] = function


def paper_for(person: Person, paper_id: int) -> Paper | None:
    """Return a paper that this person may read; any other is not found."""
    paper = Paper.objects.filter(pk=paper_id).first()
    if paper is None or not person.is_active:
        return None
    may_read = _readers.get(paper.kind)
    return paper if may_read and may_read(person, paper.about_id) else None


def latest_paper(kind: str, about: tuple[str, int]) -> Paper | None:
    return Paper.objects.about(*about).filter(kind=kind).first()


def path_of(digest: str) -> Path:
    folder = settings.FIRM_HOME / "papers" / digest[:2] / digest[2:4]
    return folder / f"{digest}.pdf"


def paper_bytes(paper: Paper) -> bytes:
    """Return the PDF as it was printed, or refuse with the reason."""
    if not paper.is_made:
        raise Refused("This paper has not been printed yet. Look again in a minute.")
    try:
        kept = path_of(paper.digest).read_bytes()
    except OSError:
        raise Refused(
            f"“{paper.title}” is missing from the firm's papers."
            " Restore it from a backup before it is sent or shown again."
        ) from None
    if hashlib.sha256(kept).hexdigest() != paper.digest:
        raise Refused(
            f"“{paper.title}” is not as it was printed: the file has been changed"
            " or damaged. Restore it from a backup before it is sent or shown again."
        )
    return kept
