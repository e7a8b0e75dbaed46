"""Children end when their parent does, however it ended.

The parent holds the writing end of a pipe and never writes. When the parent is
gone, even by kill -9, the kernel closes that end and the child reads an end.
"""

import contextlib
import os
import signal
import threading
import time
from collections.abc import Iterator

VARIABLE = "LEASH_OF_START"
GRACE_SECONDS = 4


@contextlib.contextmanager
def held() -> Iterator[int]:
    """Hold the leash; yield the end that children are to be given."""
    reading, writing = os.pipe()
    try:
        yield reading
    finally:
        os.close(writing)
        os.close(reading)


def wear() -> None:
    """End this process when the one that started it is gone."""
    given = os.environ.get(VARIABLE)
    if given is not None:
        watch = threading.Thread(target=_end_with_parent, args=(int(given),))
        watch.daemon = True
        watch.start()


def _end_with_parent(reading: int) -> None:
    os.read(reading, 1)
    os.kill(os.getpid(), signal.SIGTERM)
    time.sleep(GRACE_SECONDS)
    os._exit(1)


def end_when_orphaned() -> None:
    """End a grandchild that was not given the leash when its parent is gone."""
    if VARIABLE in os.environ:
        parent = os.getppid()
        watch = threading.Thread(target=_end_when_adopted, args=(parent,))
        watch.daemon = True
        watch.start()


def _end_when_adopted(parent: int) -> None:
    while os.getppid() == parent:
        time.sleep(0.5)
    os._exit(0)
