"""Claim letters, send each under its claim number, record what came of it.

A claim number grows with every pick-up, and every write names the number it
holds. A worker that slept past its lease therefore changes nothing. Up to the
moment the words are handed over a lost worker costs only time; after it nobody
can know whether the letter arrived, so a person decides.
"""

import re
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from django.db import transaction

from firm.actions import history
from firm.actions.tray import reason_to_stand_down
from firm.models import Notice, NoticeAttempt, Person

CLAIM_LASTS = timedelta(seconds=150)
MOST_IN_HAND = 64
RETRY_AFTER_MINUTES = (1, 5, 15, 60)
# 1 + 5 + 15 minutes, then hourly: the 51st try falls two days after the first.
MOST_TRIES = 51
KEY_IN_A_LINK = re.compile(r"/l/[\w-]{43}/")
LOST_BEFORE = "The worker stopped before the letter was handed over."
LOST_AFTER = (
    "The worker stopped while the letter was being handed over."
    " It may have arrived: ask, or look in the mail server's own record."
)
NO_PAPER = "The paper that goes with this letter could not be printed."


class Came(StrEnum):
    """What came of one attempt."""

    GONE = "gone"
    LATER = "later"
    REFUSED = "refused"
    UNSURE = "unsure"
    STOOD_DOWN = "stood down"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    came: Came
    phase: NoticeAttempt.Phase
    code: int | None = None
    words: str = ""


@transaction.atomic
def claim_letters(*, now: datetime) -> list[tuple[int, int]]:
    """Pick up what is due, no more than the workers can soon send."""
    room = MOST_IN_HAND - Notice.objects.in_hand().count()
    if room <= 0:
        return []
    free = Notice.objects.select_for_update(skip_locked=True, of=("self",))
    found = free.due(now).order_by("next_try_at", "pk")[:room]
    return [(letter.pk, letter.claim + 1) for letter in found if _claim(letter, now)]


def _claim(letter: Notice, now: datetime) -> bool:
    unclaimed = Notice.objects.filter(
        pk=letter.pk, state=Notice.State.WAITING, claim=letter.claim
    )
    changed = unclaimed.update(
        state=Notice.State.CLAIMED,
        claim=letter.claim + 1,
        claimed_until=now + CLAIM_LASTS,
    )
    return bool(changed)


@transaction.atomic
def put_back(claims: list[tuple[int, int]]) -> None:
    """Give claimed letters back when nobody could be asked to send them."""
    for pk, claim in claims:
        held = Notice.objects.filter(pk=pk, claim=claim, state=Notice.State.CLAIMED)
        held.update(state=Notice.State.WAITING, claimed_until=None)


@transaction.atomic
def take_up(notice_id: int, claim: int, *, now: datetime) -> Notice | None:
    """Begin an attempt; nothing when the claim is no longer ours or not wanted."""
    notice = _ours(notice_id, claim, Notice.State.CLAIMED)
    if notice is None or _has_attempt(notice, claim):
        return None
    NoticeAttempt.objects.create(notice=notice, claim=claim, began_at=now)
    if _stood_down(notice, now):
        return None
    _renew(notice, Notice.State.CLAIMED, now)
    return notice


@transaction.atomic
def begin_handing_over(notice_id: int, claim: int, *, now: datetime) -> bool:
    """Look at the facts a last time and record that the words leave now."""
    notice = _ours(notice_id, claim, Notice.State.CLAIMED)
    if notice is None or _stood_down(notice, now):
        return False
    _renew(notice, Notice.State.SENDING, now)
    NoticeAttempt.objects.filter(notice=notice, claim=claim).update(
        phase=NoticeAttempt.Phase.WORDS
    )
    return True


def _ours(notice_id: int, claim: int, state: Notice.State) -> Notice | None:
    locked = Notice.objects.select_for_update(of=("self",))
    return locked.filter(pk=notice_id, claim=claim, state=state).first()


def _has_attempt(notice: Notice, claim: int) -> bool:
    """The same message delivered twice by the broker is one attempt."""
    return NoticeAttempt.objects.filter(notice=notice, claim=claim).exists()


def _renew(notice: Notice, state: Notice.State, now: datetime) -> None:
    Notice.objects.filter(pk=notice.pk).update(
        state=state, claimed_until=now + CLAIM_LASTS
    )


def _stood_down(notice: Notice, now: datetime) -> bool:
    reason = reason_to_stand_down(notice, now)
    if reason is None:
        return False
    Notice.objects.filter(pk=notice.pk).update(
        state=Notice.State.STOPPED, why=reason, claimed_until=None, settled_at=now
    )
    _end_attempt(notice, reason, now)
    _remember(notice, "letter-stood-down", f"Did not go: {reason}", now)
    return True


@transaction.atomic
def settle(notice_id: int, claim: int, *, outcome: Outcome, now: datetime) -> bool:
    """Record what came of an attempt, if the claim is still its own."""
    NoticeAttempt.objects.filter(notice_id=notice_id, claim=claim).update(
        ended_at=now, phase=outcome.phase, code=outcome.code, words=outcome.words
    )
    ours = Notice.objects.select_for_update(of=("self",)).in_hand()
    notice = ours.filter(pk=notice_id, claim=claim).first()
    if notice is None:
        return False
    columns = _columns_after(notice, outcome, now)
    if outcome.came is Came.GONE:
        columns["text"] = without_keys(notice)
    Notice.objects.filter(pk=notice.pk).update(claimed_until=None, **columns)
    _remember_settled(notice, columns, now)
    return True


def without_keys(notice: Notice) -> str:
    """Return the words to keep of a letter that went: what opens a door is cut out."""
    if notice.is_sealed:
        return "The words of this letter were not kept: they opened an account."
    return KEY_IN_A_LINK.sub("/l/…/", notice.text)


def _columns_after(
    notice: Notice, outcome: Outcome, now: datetime
) -> dict[str, object]:
    tries = notice.tries + 1
    if outcome.came is Came.LATER and tries < MOST_TRIES:
        wait = RETRY_AFTER_MINUTES[min(tries, len(RETRY_AFTER_MINUTES)) - 1]
        return {
            "state": Notice.State.WAITING,
            "why": outcome.words,
            "tries": tries,
            "next_try_at": now + timedelta(minutes=wait),
        }
    state = {
        Came.GONE: Notice.State.SENT,
        Came.UNSURE: Notice.State.UNSURE,
    }.get(outcome.came, Notice.State.FAILED)
    why = "" if state == Notice.State.SENT else outcome.words
    return {"state": state, "why": why, "tries": tries, "settled_at": now}


def _remember_settled(
    notice: Notice, columns: dict[str, object], now: datetime
) -> None:
    words = {
        Notice.State.SENT: ("letter-went", "Went by email"),
        Notice.State.UNSURE: ("letter-unsure", "May have arrived"),
        Notice.State.FAILED: ("letter-refused", f"Refused: {columns['why']}"),
    }
    for state, (event, what) in words.items():
        if columns["state"] == state:
            _remember(notice, event, what, now)


def _remember(notice: Notice, event: str, what: str, now: datetime) -> None:
    history.write(
        about=notice.about,
        event=event,
        words=f"“{notice.subject}” to {notice.to_name}. {what}",
        now=now,
        by=Person.objects.clock(),
    )


def _end_attempt(notice: Notice, words: str, now: datetime) -> None:
    NoticeAttempt.objects.filter(notice=notice, claim=notice.claim).update(
        ended_at=now, words=words
    )


@transaction.atomic
def give_back_lapsed(*, now: datetime) -> int:
    """Take letters from workers that have not been heard of since their lease."""
    locked = Notice.objects.select_for_update(skip_locked=True, of=("self",))
    return _give_back(list(locked.lapsed(now)), now)


@transaction.atomic
def give_back_interrupted(*, now: datetime) -> int:
    """Take every letter in hand back: whoever held one is known to be gone."""
    return _give_back(list(Notice.objects.select_for_update().in_hand()), now)


def _give_back(letters: list[Notice], now: datetime) -> int:
    for letter in letters:
        if letter.state == Notice.State.SENDING:
            lost = Outcome(
                came=Came.UNSURE, phase=NoticeAttempt.Phase.WORDS, words=LOST_AFTER
            )
            settle(letter.pk, letter.claim, outcome=lost, now=now)
        else:
            Notice.objects.filter(pk=letter.pk).update(
                state=Notice.State.WAITING, claimed_until=None
            )
            _end_attempt(letter, LOST_BEFORE, now)
    return len(letters)


@transaction.atomic
def refuse_letters_without_paper(*, now: datetime) -> int:
    """Show the office each waiting letter whose paper could not be printed."""
    waiting = Notice.objects.without_paper()
    return waiting.update(state=Notice.State.FAILED, why=NO_PAPER, settled_at=now)
