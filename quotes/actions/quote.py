"""Work a quote out and send it."""

import hashlib
import json
from datetime import date, datetime

from django.db import transaction

from firm import may
from firm.actions import history, papers, tray
from firm.actions.numbers import take_number
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.actions import job as job_actions
from jobs.models import Job
from quotes.actions.quote_letters import follow_up_quote, mail_quote
from quotes.engine.pricing_values import VatKind
from quotes.models import Acceptance, Quote, QuoteVersion
from quotes.queries.offer import Snapshot, worked_out

ONLY_THE_OFFICE = "Only the office can write or send a quote."
REPLACED = "A later version of the quote went out."
State = QuoteVersion.State


@transaction.atomic
def write_quote(
    job_id: int, *, vat_kind: VatKind, by: Person, today: date, now: datetime
) -> QuoteVersion:
    """Work the job out and keep it as a draft; a draft that is there is worked anew."""
    if not may.send_quotes(by):
        raise Refused(ONLY_THE_OFFICE)
    job = Job.objects.with_people().select_for_update(of=("self",)).get(pk=job_id)
    offer = worked_out(job, today=today, vat_kind=vat_kind)
    quote = Quote.objects.filter(job=job).first()
    if quote is None:
        quote = Quote.objects.create(job=job, number=take_number("quote"))
    _insist_on_no_yes(quote)
    draft, _ = QuoteVersion.objects.update_or_create(
        quote=quote,
        version=_version_to_write(quote),
        defaults={
            "made_at": now,
            "snapshot": offer.snapshot | {"vat_kind": vat_kind},
            "digest": digest_of(offer.snapshot),
            "net_gbp": offer.net_gbp,
            "vat_gbp": offer.vat_gbp,
            "gross_gbp": offer.gross_gbp,
        },
    )
    _tell(job, "quote-written", f"{draft} worked out.", now=now, by=by)
    return draft


def _version_to_write(quote: Quote) -> int:
    newest = quote.versions.first()
    if newest is None:
        return 1
    return newest.version if newest.state == State.DRAFT else newest.version + 1


def digest_of(snapshot: Snapshot) -> str:
    """Return the digest that ties an answer to the exact words that were read."""
    written = json.dumps(snapshot, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(written.encode()).hexdigest()


@transaction.atomic
def send_quote(
    version_id: int, *, valid_until_on: date, by: Person, today: date, now: datetime
) -> QuoteVersion:
    """Send a draft: it is frozen, printed and mailed with a link, and followed up."""
    if not may.send_quotes(by):
        raise Refused(ONLY_THE_OFFICE)
    if valid_until_on <= today:
        raise Refused(
            "The quote would be out of date already. Pick a later day.",
            "valid_until_on",
        )
    wait_for_the_job(version_id)
    draft = _draft(version_id)
    job = draft.quote.job
    _insist_on_no_yes(draft.quote)
    _replace_former(draft.quote, now=now)
    _freeze(draft, valid_until_on=valid_until_on, today=today, now=now)
    job_actions.mark_quoted(job.pk, by=by, now=now)
    if job.customer.email:
        mail_quote(draft, now=now)
        follow_up_quote(draft, today=today, now=now)
    how = job.customer.email or "be handed over, for want of an email address"
    words = f"{draft} went out to {how}: £{draft.gross_gbp:,.2f}."
    _tell(job, "quote-sent", words, now=now, by=by)
    return draft


def _insist_on_no_yes(quote: Quote) -> None:
    if Acceptance.objects.filter(quote=quote).exists():
        raise Refused("This quote has been accepted. More work goes in as an extra.")


def wait_for_the_job(version_id: int) -> None:
    """Answer and replace a quote one after the other: whoever comes second waits here.

    Without it a yes holds the version and wants its letters, while a later version
    holds the letters and wants that version, and PostgreSQL has to end one of them.
    """
    jobs = Job.objects.select_for_update(of=("self",))
    jobs.filter(quote__versions=version_id).first()


def _replace_former(quote: Quote, *, now: datetime) -> None:
    for former in QuoteVersion.objects.out().filter(quote=quote):
        tray.stop_notices(key_prefix=f"quote:{former.pk}:", because=REPLACED, now=now)
    QuoteVersion.objects.out().filter(quote=quote).update(state=State.REPLACED)


def _draft(version_id: int) -> QuoteVersion:
    versions = QuoteVersion.objects.select_related(
        "quote__job__customer", "quote__job__site"
    )
    draft = versions.select_for_update(of=("self",)).get(pk=version_id)
    if draft.state != State.DRAFT:
        raise Refused("This version has been sent already. Work it out anew.")
    return draft


def _freeze(
    draft: QuoteVersion, *, valid_until_on: date, today: date, now: datetime
) -> None:
    """Keep the words as they are read from now on, and have them printed."""
    draft.snapshot = draft.snapshot | {
        "number": draft.quote.number,
        "version": draft.version,
        "sent_on": today.isoformat(),
        "valid_until_on": valid_until_on.isoformat(),
    }
    draft.digest = digest_of(draft.snapshot)
    draft.state, draft.sent_at = State.SENT, now
    draft.valid_until_on = valid_until_on
    draft.paper = papers.want_paper(
        kind="quote",
        about=("quote", draft.pk),
        snapshot=draft.snapshot,
        title=f"Quote {draft.quote.number}, version {draft.version}",
        now=now,
    )
    draft.save()


def _tell(job: Job, event: str, words: str, *, now: datetime, by: Person) -> None:
    history.write(about=("job", job.pk), event=event, words=words, now=now, by=by)
