"""Want a paper, print it once, keep it by its digest."""

import hashlib
import json
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import transaction

from firm.actions import bell
from firm.models import Paper

# A press turns a snapshot into PDF bytes; the app that owns the kind adds it
# when it loads. A snapshot comes back from JSON: decimals and dates are text.
Press = Callable[[dict[str, Any]], bytes]
_presses: dict[str, Press] = {}


def register_press(kind: str, function: Press) -> None:
    _presses[kind] = function


def press_for(kind: str) -> Press | None:
    return _presses.get(kind)


@transaction.atomic
def want_paper(
    *,
    kind: str,
    about: tuple[str, int],
    snapshot: dict[str, Any],
    title: str,
    now: datetime,
) -> Paper:
    """Ask for a paper; the same snapshot of the same thing is one paper."""
    if kind not in _presses:
        raise RuntimeError(f"No press is registered for {kind!r}.")
    paper, _ = Paper.objects.get_or_create(
        kind=kind,
        about_kind=about[0],
        about_id=about[1],
        snapshot_digest=_digest(snapshot),
        defaults={
            "snapshot": snapshot,
            "title": title,
            "wanted_at": now,
            "next_try_at": now,
        },
    )
    bell.ring_on_commit()
    return paper


@transaction.atomic
def print_in_turn(*, every: timedelta, now: datetime) -> int:
    """Space wanted papers out, so that one wanted meanwhile does not wait for all."""
    wanted = list(Paper.objects.due(now).order_by("wanted_at", "pk"))
    for place, paper in enumerate(wanted):
        paper.next_try_at = now + place * every
    return Paper.objects.bulk_update(wanted, ["next_try_at"])


def _digest(snapshot: dict[str, Any]) -> str:
    written = json.dumps(snapshot, sort_keys=True, cls=DjangoJSONEncoder)
    return hashlib.sha256(written.encode()).hexdigest()
