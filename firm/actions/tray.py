"""Leave letters in the tray, and work the tray as the office does."""

import secrets
from collections.abc import Callable
from datetime import datetime

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction

from firm import may
from firm.actions import bell, history
from firm.engine.refusal import Refused
from firm.models import Notice, Person

# A check looks at the facts right before sending and gives the reason to stand
# down, or None when the letter is still wanted. Apps add theirs when they load.
Check = Callable[[Notice, datetime], str | None]
_checks: dict[str, Check] = {}

TOO_LATE = "It was too late: the letter no longer made sense."
ONLY_THE_OFFICE = "Only the office can work the tray."


def register_check(kind: str, function: Check) -> None:
    _checks[kind] = function


def still_wanted(kind: str) -> Callable[[Check], Check]:
    def register(function: Check) -> Check:
        register_check(kind, function)
        return function

    return register


def reason_to_stand_down(notice: Notice, now: datetime) -> str | None:
    if notice.expires_at is not None and notice.expires_at <= now:
        return TOO_LATE
    check = _checks.get(notice.kind)
    return check(notice, now) if check else None


@transaction.atomic
def leave_notice(
    *,
    key: str,
    kind: str,
    to_name: str,
    to_address: str,
    subject: str,
    text: str,
    about: tuple[str, int],
    due_at: datetime,
    now: datetime,
    job_id: int | None = None,
    expires_at: datetime | None = None,
    paper_id: int | None = None,
) -> Notice:
    """Leave one letter; a second one with the same key changes nothing."""
    notice, _ = Notice.objects.get_or_create(
        key=key,
        defaults={
            "kind": kind,
            "to_name": _one_line(to_name),
            "to_address": _address(to_address),
            "subject": _one_line(subject),
            "text": text,
            "about_kind": about[0],
            "about_id": about[1],
            "job_id": job_id,
            "paper_id": paper_id,
            "message_id": _message_id(),
            "made_at": now,
            "due_at": due_at,
            "next_try_at": due_at,
            "expires_at": expires_at,
        },
    )
    bell.ring_on_commit()
    return notice


def _one_line(words: str) -> str:
    """A line break in a name or subject would start a header of its own."""
    return " ".join(words.split())


def _address(address: str) -> str:
    try:
        validate_email(address)
    except ValidationError:
        raise Refused(
            f"{address!r} is not an email address. Give one like name@example.com.",
            field="to_address",
        ) from None
    return address


def _message_id() -> str:
    domain = settings.FIRM_MAIL_FROM.rpartition("@")[2]
    return f"<{secrets.token_hex(16)}@{domain}>"


@transaction.atomic
def stop_notices(
    *,
    about: tuple[str, int] | None = None,
    key_prefix: str | None = None,
    because: str,
    now: datetime,
) -> int:
    """Stop the letters about a thing that nobody has begun to send."""
    if about is None and key_prefix is None:
        raise RuntimeError("Say which letters to stop: about or key_prefix.")
    letters = Notice.objects.not_gone()
    if about is not None:
        letters = letters.about(*about)
    if key_prefix is not None:
        # A range, because a prefix match does not use the index on SQLite.
        letters = letters.filter(key__gte=key_prefix, key__lt=key_prefix + "\uffff")
    return letters.update(state=Notice.State.STOPPED, why=because, settled_at=now)


@transaction.atomic
def stop_due_letters(*, due_before: datetime, because: str, now: datetime) -> int:
    """Stop every letter whose moment went by where nobody was there to send it."""
    late = Notice.objects.not_gone().filter(due_at__lt=due_before)
    return late.update(state=Notice.State.STOPPED, why=because, settled_at=now)


@transaction.atomic
def hold_notice(notice_id: int, *, by: Person, now: datetime) -> None:
    """Keep a waiting letter back until somebody lets it go."""
    _move(
        notice_id,
        (Notice.State.WAITING,),
        {"state": Notice.State.HELD, "why": f"Held by {by.name}."},
        refusal="This letter is no longer waiting, so it cannot be held.",
        event="letter-held",
        by=by,
        now=now,
    )


@transaction.atomic
def let_notice_go(notice_id: int, *, by: Person, now: datetime) -> None:
    """Let a held letter go when it is due."""
    _move(
        notice_id,
        (Notice.State.HELD,),
        {"state": Notice.State.WAITING, "why": ""},
        refusal="This letter is not held.",
        event="letter-let-go",
        by=by,
        now=now,
    )


@transaction.atomic
def stop_notice(notice_id: int, *, by: Person, now: datetime) -> None:
    """Stop one letter for good."""
    _move(
        notice_id,
        (
            Notice.State.WAITING,
            Notice.State.HELD,
            Notice.State.FAILED,
            Notice.State.UNSURE,
        ),
        {
            "state": Notice.State.STOPPED,
            "why": f"Stopped by {by.name}.",
            "settled_at": now,
        },
        refusal="This letter has gone or is going, so it cannot be stopped.",
        event="letter-stopped",
        by=by,
        now=now,
    )


@transaction.atomic
def send_notice_now(notice_id: int, *, by: Person, now: datetime) -> None:
    """Send a waiting letter at once instead of when it is due."""
    _move(
        notice_id,
        (Notice.State.WAITING, Notice.State.HELD),
        {"state": Notice.State.WAITING, "why": "", "next_try_at": now},
        refusal="This letter is no longer waiting, so it cannot be sent now.",
        event="letter-brought-forward",
        by=by,
        now=now,
    )


@transaction.atomic
def note_arrived(notice_id: int, *, by: Person, now: datetime) -> None:
    """Record that a letter nobody was sure of did arrive."""
    _move(
        notice_id,
        (Notice.State.UNSURE,),
        {
            "state": Notice.State.SENT,
            "why": f"{by.name} says that it arrived.",
            "settled_at": now,
        },
        refusal="This letter is not waiting for a decision.",
        event="letter-arrived",
        by=by,
        now=now,
    )


@transaction.atomic
def send_notice_again(notice_id: int, *, by: Person, now: datetime) -> None:
    """Send a letter that was refused, or that may not have arrived, once more."""
    _move(
        notice_id,
        (Notice.State.UNSURE, Notice.State.FAILED),
        {
            "state": Notice.State.WAITING,
            "why": "",
            "next_try_at": now,
            "tries": 0,
            "settled_at": None,
        },
        refusal="This letter is not waiting for a decision.",
        event="letter-sent-again",
        by=by,
        now=now,
    )


_WORDS = {
    "letter-held": "Held back",
    "letter-let-go": "Let go",
    "letter-stopped": "Stopped",
    "letter-brought-forward": "Asked to go at once",
    "letter-arrived": "Noted as arrived",
    "letter-sent-again": "Asked to go again",
}


def _move(
    notice_id: int,
    old: tuple[Notice.State, ...],
    columns: dict[str, object],
    *,
    refusal: str,
    event: str,
    by: Person,
    now: datetime,
) -> None:
    if not may.work_the_tray(by):
        raise Refused(ONLY_THE_OFFICE)
    if not Notice.objects.filter(pk=notice_id, state__in=old).update(**columns):
        raise Refused(refusal)
    notice = Notice.objects.get(pk=notice_id)
    words = f"{_WORDS[event]}: {notice.subject}, to {notice.to_name}."
    history.write(about=notice.about, event=event, words=words, now=now, by=by)
    bell.ring_on_commit()
