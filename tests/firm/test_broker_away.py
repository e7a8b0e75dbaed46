"""A broker that is away delays letters and loses none; pages never notice."""

import time
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from django.utils import timezone

from firm.actions import bell
from firm.management import services
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


@contextmanager
def redis_at(port: int) -> Iterator[None]:
    program = services.find_program("redis-server")
    with services.temporary_folder() as folder:
        command = [program, "--port", str(port), "--bind", "127.0.0.1"]
        command += ["--dir", str(folder), "--save", "", "--appendonly", "no"]
        with services.running(command, folder, lambda: services.redis_answers(port)):
            yield


def has_gone(notice: Notice) -> bool:
    return Notice.objects.filter(pk=notice.pk, state=State.SENT).exists()


def test_a_dead_broker_costs_a_page_no_time(settings):
    settings.FIRM_BROKER_URL = f"redis://127.0.0.1:{services.free_port()}/0"
    began = time.monotonic()
    for _ in range(20):
        bell.ring()
    assert time.monotonic() - began < 0.2


def test_a_broker_that_restarts_empty_delays_letters_and_loses_none():
    port = services.free_port()
    url = f"redis://127.0.0.1:{port}/0"
    with faulty_server() as server, worker(server.url, FIRM_BROKER_URL=url):
        with redis_at(port):
            first = letter(now=timezone.now())
            assert eventually(lambda: has_gone(first))
        second = letter(now=timezone.now())
        time.sleep(3)
        assert not has_gone(second)
        with redis_at(port):
            third = letter(now=timezone.now())
            assert eventually(lambda: has_gone(second), seconds=60)
            assert eventually(lambda: has_gone(third))
        expected = [notice.message_id for notice in (first, second, third)]
        assert sorted(server.message_ids) == sorted(expected)


def test_redis_wakes_the_worker_of_the_served_home():
    with faulty_server() as server, worker(server.url):
        first = letter(now=timezone.now())
        assert eventually(lambda: has_gone(first))
        began = time.monotonic()
        second = letter(now=timezone.now())
        assert eventually(lambda: has_gone(second))
        assert time.monotonic() - began < 5
