"""Take the customer's yes or no, once, for the exact version that was read."""

from datetime import date, datetime

from django.db import IntegrityError, transaction

from firm import may
from firm.actions import history, tray
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.actions import job as job_actions
from quotes.actions.handing_down import hand_down
from quotes.actions.quote import wait_for_the_job
from quotes.actions.quote_letters import thank_for_yes
from quotes.models import Acceptance, QuoteVersion

NOT_OUT = "This quote is no longer open to an answer. Ask us for the current one."
OTHER_VERSION = (
    "The quote was changed after this page was opened. Read the current one first."
)
ACCEPTED = "This quote has been accepted already. Thank you."
ANSWERED = "The customer answered."
THE_CUSTOMER = "the customer, by link"
State = QuoteVersion.State


@transaction.atomic
def accept_quote(
    version_id: int,
    *,
    digest: str,
    typed_name: str,
    asks_early_start: bool,
    from_address: str | None,
    today: date,
    now: datetime,
    taken_by: Person | None = None,
    taken_how: str = "",
) -> Acceptance:
    """Take the customer's yes, once, for the exact version that was read."""
    if taken_by is not None and not may.send_quotes(taken_by):
        raise Refused("Only the office can note a customer's yes.")
    if len(typed_name.strip()) < 2:
        raise Refused("Type your name to say yes.", "typed_name")
    version = _standing(version_id, digest=digest)
    if version.valid_until_on is None or version.valid_until_on < today:
        raise Refused("This quote is out of date. Ask us for a fresh one.")
    acceptance = _yes(
        version,
        digest=digest,
        typed_name=typed_name.strip(),
        at=now,
        from_address=from_address,
        asks_early_start=asks_early_start,
        taken_by=taken_by,
        taken_how=taken_how,
    )
    _go_on(version, acceptance, now=now)
    return acceptance


def _go_on(version: QuoteVersion, acceptance: Acceptance, *, now: datetime) -> None:
    """Hand the work down, stop asking, say thank you, and write it down."""
    by = acceptance.taken_by
    by_words = "" if by else THE_CUSTOMER
    hand_down(version, by=by, by_words=by_words, now=now)
    tray.stop_notices(key_prefix=f"quote:{version.pk}:", because=ANSWERED, now=now)
    thank_for_yes(version, typed_name=acceptance.typed_name, now=now)
    history.write(
        about=("job", version.quote.job_id),
        event="quote-accepted",
        words=f"{acceptance.typed_name} said yes to {version}.",
        now=now,
        by=by,
        by_words=by_words,
    )


def _standing(version_id: int, *, digest: str) -> QuoteVersion:
    wait_for_the_job(version_id)
    versions = QuoteVersion.objects.select_related("quote__job__customer")
    version = versions.select_for_update(of=("self",)).filter(pk=version_id).first()
    if version is None:
        raise Refused(NOT_OUT)
    if version.state == State.ACCEPTED:
        raise Refused(ACCEPTED)
    if version.state != State.SENT:
        raise Refused(NOT_OUT)
    if version.digest != digest:
        raise Refused(OTHER_VERSION)
    return version


def _yes(version: QuoteVersion, **columns: object) -> Acceptance:
    try:
        with transaction.atomic():
            acceptance = Acceptance.objects.create(
                quote=version.quote, version=version, **columns
            )
    except IntegrityError:
        raise Refused(ACCEPTED) from None
    QuoteVersion.objects.filter(pk=version.pk).update(state=State.ACCEPTED)
    return acceptance


@transaction.atomic
def decline_quote(version_id: int, *, digest: str, because: str, now: datetime) -> None:
    """Take the customer's no, with the reason if there is one."""
    version = _standing(version_id, digest=digest)
    QuoteVersion.objects.filter(pk=version.pk).update(
        state=State.DECLINED, declined_because=because
    )
    tray.stop_notices(key_prefix=f"quote:{version.pk}:", because=ANSWERED, now=now)
    job_actions.mark_lost(
        version.quote.job_id,
        because=because or "The customer turned the quote down.",
        by=None,
        by_words=THE_CUSTOMER,
        now=now,
    )
