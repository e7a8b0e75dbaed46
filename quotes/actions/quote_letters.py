"""The letters about a quote: with the quote, after a silence, and after a yes."""

from datetime import date, datetime, time, timedelta

from django.utils.timezone import localdate, make_aware

from firm.actions import links, tray
from firm.engine.working_days import WorkingDays, england_bank_holidays
from firm.templatetags.figures import phone, pounds
from jobs.models import Job
from quotes.models import QuoteVersion

FOLLOW_UP_WORKING_DAYS = 5
FOLLOW_UP_AT = time(9, 30)
LINK_OUTLIVES_QUOTE = timedelta(days=60)

QUOTE_LETTER = """Dear {customer},

thank you for showing us the work at {site}. Our quote for "{what}" comes to {gross}.

Read it, ask, or say yes here:
{link}

It is attached as a paper as well, and stands until {until}.

{firm}
{phone}
"""

FOLLOW_UP_LETTER = """Dear {customer},

a few days ago we sent you our quote for "{what}". It stands until {until}.
If anything in it is not clear, ring us on {phone} or answer this letter.
If you have decided against it, a word is enough and we shall not ask again.

{firm}
"""

YES_LETTER = """Dear {customer},

thank you. {name} accepted our quote for "{what}" at {gross}.
We shall come back to you with a day. If this was not you, ring us at once on {phone}.

{firm}
"""


def mail_quote(version: QuoteVersion, *, now: datetime) -> None:
    until = make_aware(datetime.combine(_until(version), time.max))
    link = links.make_link(
        purpose="quote",
        about_id=version.pk,
        expires_at=until + LINK_OUTLIVES_QUOTE,
        now=now,
    )
    _letter(
        version,
        key=f"quote:{version.pk}",
        kind="quote",
        subject=f"Our quote for {version.snapshot['job']['what']}",
        text=QUOTE_LETTER.format(**_words(version), link=link),
        due_at=now,
        now=now,
    )


def follow_up_quote(version: QuoteVersion, *, today: date, now: datetime) -> None:
    days = WorkingDays(england_bank_holidays([today.year, today.year + 1]))
    due_on = days.add(today, FOLLOW_UP_WORKING_DAYS)
    if due_on > _until(version):
        return
    _letter(
        version,
        key=f"quote:{version.pk}:follow-up",
        kind="quote-follow-up",
        subject=f"Our quote for {version.snapshot['job']['what']}",
        text=FOLLOW_UP_LETTER.format(**_words(version)),
        due_at=make_aware(datetime.combine(due_on, FOLLOW_UP_AT)),
        now=now,
    )


def thank_for_yes(version: QuoteVersion, *, typed_name: str, now: datetime) -> None:
    if not version.quote.job.customer.email:
        return
    _letter(
        version,
        key=f"quote-yes:{version.pk}",
        kind="quote-yes",
        subject="Thank you: we have your yes",
        text=YES_LETTER.format(**_words(version), name=typed_name),
        due_at=now,
        now=now,
    )


def _until(version: QuoteVersion) -> date:
    return date.fromisoformat(version.snapshot["valid_until_on"])


def _letter(
    version: QuoteVersion,
    *,
    key: str,
    kind: str,
    subject: str,
    text: str,
    due_at: datetime,
    now: datetime,
) -> None:
    job = version.quote.job
    tray.leave_notice(
        key=key,
        kind=kind,
        to_name=job.customer.name,
        to_address=job.customer.email,
        subject=subject,
        text=text,
        about=("quote", version.pk),
        due_at=due_at,
        now=now,
        job_id=job.pk,
        paper_id=version.paper_id if kind == "quote" else None,
    )


def _words(version: QuoteVersion) -> dict[str, str]:
    shot = version.snapshot
    return {
        "customer": shot["customer"]["name"],
        "what": shot["job"]["what"],
        "site": shot["site"]["address"].splitlines()[0],
        "until": f"{_until(version):%-d %B %Y}",
        "gross": pounds(version.gross_gbp),
        "firm": shot["firm"]["name"],
        "phone": phone(shot["firm"]["phone"]),
    }


def why_not_follow_up(version_id: int, *, now: datetime) -> str | None:
    """Say why a quote is not asked after, or None when silence is all there is."""
    version = QuoteVersion.objects.select_related("quote__job").get(pk=version_id)
    if version.state != QuoteVersion.State.SENT:
        return f"The quote is {version.get_state_display().lower()}."
    if version.quote.job.stage == Job.Stage.LOST:
        return "The job is not going ahead."
    if version.valid_until_on is not None and version.valid_until_on < localdate(now):
        return "The quote has run out."
    return None
