"""Letters for the tray's tests."""

import itertools
from datetime import UTC, datetime, timedelta
from typing import Any

from firm.actions import sending
from firm.actions.tray import leave_notice
from firm.models import Notice

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
SECOND = timedelta(seconds=1)
_count = itertools.count(1)


def letter(*, now: datetime = NOW, **columns: Any) -> Notice:
    number = next(_count)
    given = {
        "key": f"test:{number}",
        "kind": "test",
        "to_name": "Ana Lowe",
        "to_address": "ana@example.com",
        "subject": "Your visit on Monday",
        "text": "We come at nine.",
        "about": ("job", 7),
        "due_at": now,
    }
    return leave_notice(now=now, **{**given, **columns})


def claimed(**columns: Any) -> tuple[Notice, int]:
    """Leave a letter and pick it up, as the relay does."""
    notice = letter(**columns)
    claims = dict(sending.claim_letters(now=NOW))
    return notice, claims[notice.pk]


def handed_over(**columns: Any) -> tuple[Notice, int]:
    """Bring a letter to the moment when its words leave."""
    notice, claim = claimed(**columns)
    assert sending.take_up(notice.pk, claim, now=NOW)
    assert sending.begin_handing_over(notice.pk, claim, now=NOW)
    return notice, claim
