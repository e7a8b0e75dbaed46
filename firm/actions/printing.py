"""Claim papers, print each outside any transaction, keep it, then say so."""

import contextlib
import hashlib
import os
import tempfile
from datetime import datetime, timedelta
from pathlib import Path

from django.db import transaction

from firm.models import Paper
from firm.queries.papers import path_of

CLAIM_LASTS = timedelta(minutes=3)
# Printing is one at a time in a process, so more in hand would only wait.
MOST_IN_HAND = 4
RETRY_AFTER_MINUTES = (1, 5, 15)


@transaction.atomic
def claim_papers(*, now: datetime) -> list[tuple[int, int]]:
    """Pick up papers to print."""
    room = MOST_IN_HAND - Paper.objects.filter(state=Paper.State.PRINTING).count()
    free = Paper.objects.select_for_update(skip_locked=True)
    found = free.due(now).order_by("next_try_at", "pk")[: max(0, room)]
    return [(paper.pk, paper.claim + 1) for paper in found if _claim(paper, now)]


def _claim(paper: Paper, now: datetime) -> bool:
    unclaimed = Paper.objects.filter(
        pk=paper.pk, state=Paper.State.WANTED, claim=paper.claim
    )
    changed = unclaimed.update(
        state=Paper.State.PRINTING,
        claim=paper.claim + 1,
        claimed_until=now + CLAIM_LASTS,
    )
    return bool(changed)


@transaction.atomic
def put_back(claims: list[tuple[int, int]]) -> None:
    for pk, claim in claims:
        held = Paper.objects.filter(pk=pk, claim=claim, state=Paper.State.PRINTING)
        held.update(state=Paper.State.WANTED, claimed_until=None)


@transaction.atomic
def give_back_lapsed(*, now: datetime) -> int:
    lapsed = Paper.objects.lapsed(now)
    return lapsed.update(state=Paper.State.WANTED, claimed_until=None)


@transaction.atomic
def give_back_interrupted() -> int:
    printing = Paper.objects.filter(state=Paper.State.PRINTING)
    return printing.update(state=Paper.State.WANTED, claimed_until=None)


def keep_paper(paper_id: int, claim: int, *, pdf: bytes, now: datetime) -> bool:
    """Keep the PDF by its digest, and only then let the row say that it is made."""
    digest = hashlib.sha256(pdf).hexdigest()
    store(pdf, path_of(digest))
    return settle(
        paper_id,
        claim,
        state=Paper.State.MADE,
        digest=digest,
        size_bytes=len(pdf),
        made_at=now,
        why="",
    )


def set_aside(paper_id: int, claim: int, *, why: str, now: datetime) -> bool:
    """Try a paper that did not print again later, or give it up with the reason."""
    paper = Paper.objects.get(pk=paper_id)
    if paper.tries >= len(RETRY_AFTER_MINUTES):
        return settle(paper_id, claim, state=Paper.State.FAILED, why=why)
    wait = timedelta(minutes=RETRY_AFTER_MINUTES[paper.tries])
    return settle(
        paper_id,
        claim,
        state=Paper.State.WANTED,
        why=why,
        tries=paper.tries + 1,
        next_try_at=now + wait,
    )


@transaction.atomic
def settle(paper_id: int, claim: int, **columns: object) -> bool:
    ours = Paper.objects.filter(pk=paper_id, claim=claim, state=Paper.State.PRINTING)
    return bool(ours.update(claimed_until=None, **columns))


def store(content: bytes, path: Path) -> None:
    """Write a file so that a power cut leaves all of it or none of it."""
    if path.exists() and path.read_bytes() == content:
        return
    _make_folders(path.parent)
    handle, partial = tempfile.mkstemp(dir=path.parent, suffix=".partial")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(partial).rename(path)
    except BaseException:
        with contextlib.suppress(FileNotFoundError):
            Path(partial).unlink()
        raise
    _sync_folder(path.parent)


def _make_folders(folder: Path) -> None:
    if folder.exists():
        return
    _make_folders(folder.parent)
    folder.mkdir(exist_ok=True)
    _sync_folder(folder.parent)


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
