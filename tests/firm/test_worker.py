"""Real workers, a real mail server, real faults: nothing lost, nothing twice."""

from datetime import timedelta

import pytest
from django.conf import settings
from django.utils import timezone

from firm.actions import bell
from firm.management import homelock
from firm.models import Notice, Pulse
from tests.firm.letters import letter
from tests.firm.mail_server import faulty_server
from tests.firm.workers import eventually, worker

State = Notice.State
pytestmark = [pytest.mark.slow, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def server():
    with faulty_server() as running:
        yield running


def state_of(notice: Notice) -> str:
    return Notice.objects.values_list("state", flat=True).get(pk=notice.pk)


def let_leases_run_out() -> None:
    """Move the leases to the past, as the passing of time would."""
    held = Notice.objects.in_hand()
    held.update(claimed_until=timezone.now() - timedelta(seconds=1))


def test_fifty_letters_go_once_each(server):
    letters = [letter(now=timezone.now()) for _ in range(50)]
    with worker(server.url):
        assert eventually(lambda: Notice.objects.filter(state=State.SENT).count() == 50)
    marks = [notice.message_id for notice in letters]
    assert sorted(server.message_ids) == sorted(marks)


def test_a_worker_killed_after_the_words_left_sends_them_never_again(server):
    server.fault = "stall after the dot"
    notice = letter(now=timezone.now())
    with worker(server.url):
        assert eventually(lambda: len(server.raw) == 1)
        assert state_of(notice) == State.SENDING
    server.fault = ""
    let_leases_run_out()
    other = letter(now=timezone.now())
    with worker(server.url):
        assert eventually(lambda: state_of(other) == State.SENT)
        assert eventually(lambda: state_of(notice) == State.UNSURE)
    assert server.message_ids == [notice.message_id, other.message_id]


def test_a_worker_killed_before_the_words_left_sends_them_once_afterwards(server):
    server.fault = "stall at the address"
    notice = letter(now=timezone.now())
    with worker(server.url):
        assert eventually(lambda: server.seen_addresses != [])
        assert state_of(notice) == State.CLAIMED
    server.fault = ""
    let_leases_run_out()
    with worker(server.url):
        assert eventually(lambda: state_of(notice) == State.SENT)
    assert server.message_ids == [notice.message_id]
    assert notice.attempts.count() == 2


@pytest.mark.skipif(
    "postgresql" in settings.DATABASES["default"]["ENGINE"],
    reason="other machines may share the database, so there the leases decide",
)
def test_a_worker_alone_with_its_home_takes_interrupted_letters_back_at_once(server):
    server.fault = "stall at the address"
    notice = letter(now=timezone.now())
    with worker(server.url):
        assert eventually(lambda: server.seen_addresses != [])
    server.fault = ""
    with worker(server.url):
        assert eventually(lambda: state_of(notice) == State.SENT, seconds=20)


def test_a_second_worker_takes_nothing_from_one_that_is_sending(server):
    server.fault = "stall at the address"
    notice = letter(now=timezone.now())
    with worker(server.url):
        assert eventually(lambda: server.seen_addresses != [])
        server.fault = ""
        other = letter(now=timezone.now())
        with worker(server.url):
            assert eventually(lambda: state_of(other) == State.SENT)
            assert state_of(notice) == State.CLAIMED


@pytest.mark.parametrize(
    ("fault", "state", "kept"),
    [
        ("refuse the address", State.FAILED, 0),
        ("put off the address", State.WAITING, 0),
        ("refuse the words", State.FAILED, 0),
        ("put off the words", State.WAITING, 0),
        ("drop after the dot", State.UNSURE, 1),
    ],
)
def test_each_answer_of_the_server_settles_the_letter(server, fault, state, kept):
    server.fault = fault
    notice = letter(now=timezone.now())
    with worker(server.url):
        assert eventually(lambda: notice.attempts.exclude(ended_at=None).exists())
        assert eventually(lambda: state_of(notice) == state)
    notice.refresh_from_db()
    assert notice.why
    assert len(server.raw) == kept


def test_a_letter_left_while_nobody_works_goes_when_somebody_does(server):
    notice = letter(now=timezone.now())
    bell.ring()
    assert state_of(notice) == State.WAITING
    with worker(server.url):
        assert eventually(lambda: state_of(notice) == State.SENT)


def test_a_working_worker_shows_its_pulse(server):
    with worker(server.url):
        assert eventually(lambda: Pulse.objects.filter(name="worker").exists())


def test_a_lock_is_free_again_after_its_holder_was_killed(server):
    file = settings.FIRM_HOME / "worker.lock"
    with worker(server.url) as process:
        assert eventually(Pulse.objects.exists)
        with homelock.shared(file) as is_alone:
            assert not is_alone
        process.kill()
        process.wait()
        with homelock.shared(file) as is_alone:
            assert is_alone
