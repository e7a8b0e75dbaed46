"""One worker process: relay, Celery's threads, the clock and the post box."""

import gc
import logging
import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

from celery.beat import EmbeddedService
from celery.platforms import SecurityWarning
from celery.signals import worker_ready
from django.conf import settings
from django.db import connection

from firm.actions import printing, sending
from firm.celery import app
from firm.documents import press
from firm.queries.clock import database_now
from firm.tasks.letters import use_post_box
from firm.tasks.post_box import PostBox
from firm.tasks.relay import Relay

log = logging.getLogger("firm.worker")
THREADS = 8


def work(*, is_alone: bool) -> int:
    """Work until told to stop; return the exit code.

    A worker that is alone with its database takes back at once what a lost one
    held; elsewhere the leases decide.
    """
    with post_box_if_needed():
        if is_alone:
            take_back_interrupted()
        connection.close()
        relay = Relay()
        beat = EmbeddedService(app, thread=True, scheduler_cls="celery.beat:Scheduler")
        worker_ready.connect(settle_down)
        beat.start()
        relay.start()
        try:
            return run_celery()
        finally:
            relay.stop()


def take_back_interrupted() -> None:
    letters = sending.give_back_interrupted(now=database_now())
    papers = printing.give_back_interrupted()
    if letters or papers:
        log.info("took back %s letters and %s papers", letters, papers)


def run_celery() -> int:
    # Celery warns of root because of pickle, which is not accepted here.
    warnings.filterwarnings("ignore", category=SecurityWarning)
    worker = app.Worker(
        pool="threads",
        concurrency=THREADS,
        quiet=True,
        without_gossip=True,
        without_mingle=True,
        without_heartbeat=True,
        hostname="firm@%h",
        loglevel="WARNING",
    )
    worker.start()
    return int(worker.exitcode or 0)


def settle_down(**_signal: object) -> None:
    """Load the press beside the first work, then let the collector rest."""
    threading.Thread(target=_warm, name="warm", daemon=True).start()


def _warm() -> None:
    press.warm()
    gc.collect()
    gc.freeze()
    gc.set_threshold(10_000, 20, 50)


@contextmanager
def post_box_if_needed() -> Iterator[None]:
    if settings.FIRM_SMTP is not None:
        yield
        return
    box = PostBox(settings.FIRM_HOME / "post")
    use_post_box(box.open())
    try:
        yield
    finally:
        box.shut()
