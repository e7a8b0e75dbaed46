"""A broker that is away delays letters and loses none; pages never notice."""

import os
import time

import pytest
from django.utils import timezone

from firm.actions import bell
from firm.management.services import redis_server
from firm.models import Notice
from tests.firm.letters import letter
from tests.firm.mail_server import faulty_server
from tests.firm.workers import eventually, worker

State = Notice.State
pytestmark = [
    pytest.mark.slow,
    pytest.mark.served,
    pytest.mark.django_db(transaction=True),
]
DEAD_BROKER = "redis://127.0.0.1:9/0"


def test_a_dead_broker_costs_a_page_no_time(settings):
    settings.FIRM_BROKER_URL = DEAD_BROKER
    began = time.monotonic()
    for _ in range(20):
        bell.ring()
    assert time.monotonic() - began < 0.2


def test_a_letter_left_while_redis_is_away_goes_when_it_is_back():
    notice = letter(now=timezone.now())
    with faulty_server() as server:
        with worker(server.url, FIRM_BROKER_URL=DEAD_BROKER):
            time.sleep(5)
            state = Notice.objects.get(pk=notice.pk).state
            assert state in {State.WAITING, State.CLAIMED}
            assert server.raw == []
        # A real broker again, as after a restart that forgot everything.
        with redis_server() as url, worker(server.url, FIRM_BROKER_URL=url):
            assert eventually(
                lambda: Notice.objects.filter(state=State.SENT).exists()
            )
        assert server.message_ids == [notice.message_id]


def test_redis_wakes_the_worker_of_the_served_home():
    with faulty_server() as server, worker(server.url):
        assert os.environ["FIRM_BROKER_URL"].startswith("redis")
        first = letter(now=timezone.now())
        assert eventually(
            lambda: Notice.objects.filter(pk=first.pk, state=State.SENT).exists()
        )
