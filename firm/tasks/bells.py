"""What the relay listens to between two looks at the tray."""

import contextlib
import select
import socket
import time
from pathlib import Path

import redis
from django.conf import settings
from redis.backoff import NoBackoff
from redis.retry import Retry

from firm.actions import bell


class SocketBell:
    """Hears the datagram that a page leaves after its commit."""

    def __init__(self) -> None:
        self.socket = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self.socket.setblocking(False)  # noqa: FBT003 - the library's own
        path = bell.socket_path()
        if path is not None:
            Path(path).unlink(missing_ok=True)
            self.socket.bind(path)

    def wait(self, seconds: float) -> None:
        select.select([self.socket], [], [], seconds)
        with contextlib.suppress(BlockingIOError):
            while True:
                self.socket.recv(16)

    def close(self) -> None:
        self.socket.close()


class RedisBell:
    """Hears the push that a page leaves in Redis after its commit."""

    def __init__(self) -> None:
        # A second look costs less than a second try, so nothing is retried here.
        self.client = redis.Redis.from_url(
            settings.FIRM_BROKER_URL,
            socket_timeout=5,
            socket_connect_timeout=1,
            retry=Retry(NoBackoff(), 0),
        )

    def wait(self, seconds: float) -> None:
        try:
            self.client.blpop([bell.REDIS_LIST], timeout=seconds)
            self.client.delete(bell.REDIS_LIST)
        except (redis.RedisError, OSError):
            time.sleep(seconds)

    def close(self) -> None:
        self.client.close()
