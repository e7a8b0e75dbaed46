"""The relay: looks at the tray, claims what is due, hands it to the workers."""

import logging
import threading
import time
from datetime import datetime

import redis
from django.db import DatabaseError, close_old_connections, connection
from kombu.exceptions import OperationalError

from firm.actions import bell, printing, sending
from firm.models import Notice, Paper
from firm.queries.clock import database_now
from firm.tasks.bells import RedisBell, SocketBell
from firm.tasks.letters import send_letter
from firm.tasks.papers import print_paper
from firm.tasks.rounds import minute, pulse

log = logging.getLogger("firm.relay")
LOOK_EVERY_SECONDS = 1.0
CHECK_LEASES_EVERY_SECONDS = 5.0
PULSE_EVERY_SECONDS = 20.0
# What a broker that is away raises, before or after kombu wraps it.
BROKER_AWAY = (OperationalError, redis.RedisError, OSError)


class Relay(threading.Thread):
    def __init__(self) -> None:
        super().__init__(name="relay", daemon=True)
        self.bell = RedisBell() if bell.rings_in_redis() else SocketBell()
        self.is_over = threading.Event()
        self.last_done: dict[str, float] = {}

    def run(self) -> None:
        while not self.is_over.is_set():
            try:
                self._look()
            except DatabaseError:
                log.warning("the database does not answer; looking again in a second")
                connection.close()
            except BROKER_AWAY:
                log.warning("the broker does not answer; looking again in a second")
            close_old_connections()
            self.bell.wait(LOOK_EVERY_SECONDS)
        connection.close()
        self.bell.close()

    def stop(self) -> None:
        self.is_over.set()
        bell.ring()
        self.join(timeout=2)

    def _look(self) -> None:
        now = database_now()
        if self._is_time("leases", CHECK_LEASES_EVERY_SECONDS):
            tidy(now=now)
        if Paper.objects.due(now).exists():
            hand_papers()
        if Notice.objects.due(now).exists():
            hand_letters()
        if self._is_time("pulse", PULSE_EVERY_SECONDS):
            pulse.apply_async(retry=False, expires=60)
        # Beat's first minute ends a minute after the start; the catching up
        # after a night switched off does not wait for it.
        if self._is_time("first minute", float("inf")):
            minute.apply_async(retry=False)

    def _is_time(self, what: str, every_seconds: float) -> bool:
        now = time.monotonic()
        last = self.last_done.get(what)
        if last is not None and now - last < every_seconds:
            return False
        self.last_done[what] = now
        return True


def tidy(*, now: datetime) -> None:
    """Take back what lost workers held; show letters whose paper will not come."""
    if Notice.objects.lapsed(now).exists():
        sending.give_back_lapsed(now=now)
    if Paper.objects.lapsed(now).exists():
        printing.give_back_lapsed(now=now)
    if Notice.objects.without_paper().exists():
        sending.refuse_letters_without_paper(now=now)


def hand_letters() -> None:
    claims = sending.claim_letters(now=database_now())
    for position, claim in enumerate(claims):
        try:
            send_letter.apply_async(args=claim, retry=False)
        except BROKER_AWAY:
            sending.put_back(claims[position:])
            raise


def hand_papers() -> None:
    claims = printing.claim_papers(now=database_now())
    for position, claim in enumerate(claims):
        try:
            print_paper.apply_async(args=claim, retry=False)
        except BROKER_AWAY:
            printing.put_back(claims[position:])
            raise
