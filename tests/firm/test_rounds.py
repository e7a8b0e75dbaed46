"""The rounds of the clock: all of them made, whichever fails."""

import logging

import pytest

from firm.actions import rounds
from firm.models import Notice
from firm.tasks import minute
from tests.firm.letters import letter

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def only_ours():
    kept = rounds.all_rounds()
    rounds._rounds.clear()
    yield
    rounds._rounds.clear()
    rounds._rounds.update(kept)


def remind(now):
    letter(key="remind:7", now=now)


def fail(now):
    raise ZeroDivisionError


def test_a_round_made_twice_leaves_one_letter():
    rounds.register_round("reminders", remind)
    minute()
    minute()
    assert Notice.objects.get().key == "remind:7"


def test_a_round_that_fails_keeps_no_other_from_its_work(caplog):
    rounds.register_round("broken", fail)
    rounds.register_round("reminders", remind)
    with caplog.at_level(logging.ERROR):
        minute()
    assert Notice.objects.count() == 1
    assert "the round broken failed" in caplog.text
