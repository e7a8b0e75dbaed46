"""Locks on files of the firm's home: the kernel gives them back after kill -9."""

import fcntl
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from firm.engine.refusal import Refused


@contextmanager
def exclusive(file: Path, *, refusal: str) -> Iterator[None]:
    with file.open("a") as handle:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise Refused(refusal) from None
        yield


@contextmanager
def shared(file: Path) -> Iterator[bool]:
    """Hold the lock beside others; say whether nobody else held it."""
    with file.open("a") as handle:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            is_alone = True
        except BlockingIOError:
            is_alone = False
        fcntl.flock(handle, fcntl.LOCK_SH)
        yield is_alone
