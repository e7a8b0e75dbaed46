"""Wake the relay after a commit: never raises, never waits.

The tray is the truth and the relay looks at it every second anyway, so a
bell that is not heard costs a second and loses nothing.
"""

import contextlib
import queue
import socket
import threading

import redis
from django.conf import settings
from django.db import transaction
from redis.backoff import NoBackoff
from redis.retry import Retry

# Longer paths do not fit the address of a Unix socket; the look a second does.
LONGEST_SOCKET_PATH = 100
REDIS_LIST = "firm-bell"
_to_ring: "queue.Queue[None]" = queue.Queue(maxsize=1)
_ringer_lock = threading.Lock()
_ringer: threading.Thread | None = None


def socket_path() -> str | None:
    path = str(settings.FIRM_HOME / "bell")
    return path if len(path) <= LONGEST_SOCKET_PATH else None


def rings_in_redis() -> bool:
    return not settings.FIRM_BROKER_URL.startswith("memory:")


def ring_on_commit() -> None:
    transaction.on_commit(ring, robust=True)


def ring() -> None:
    if rings_in_redis():
        _start_ringer()
        with contextlib.suppress(queue.Full):
            _to_ring.put_nowait(None)
    else:
        _ring_socket()


def _ring_socket() -> None:
    path = socket_path()
    if path is None:
        return
    with (
        contextlib.suppress(OSError),
        socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as bell,
    ):
        bell.setblocking(False)  # noqa: FBT003 - the library's own signature
        bell.sendto(b"!", path)


def _start_ringer() -> None:
    """Redis may be slow to refuse, so a thread of its own waits for it."""
    global _ringer  # noqa: PLW0603 - one thread a process, made at the first need
    with _ringer_lock:
        if _ringer is None or not _ringer.is_alive():
            _ringer = threading.Thread(target=_ring_redis, name="bell", daemon=True)
            _ringer.start()


def _ring_redis() -> None:
    client = redis.Redis.from_url(
        settings.FIRM_BROKER_URL,
        socket_timeout=1,
        socket_connect_timeout=1,
        retry=Retry(NoBackoff(), 0),
    )
    while True:
        _to_ring.get()
        with contextlib.suppress(redis.RedisError, OSError):
            client.lpush(REDIS_LIST, "!")
            client.ltrim(REDIS_LIST, 0, 8)
