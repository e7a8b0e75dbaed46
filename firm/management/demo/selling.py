"""The quote goes out, and the customer answers or does not."""

from datetime import datetime, timedelta
from typing import Any

from django.utils.timezone import localdate

from firm.management.demo import above
from firm.management.demo.story import Story
from firm.models import Firm


def quote(story: Story, n: int, now: datetime) -> None:
    by, today = story.stage.cast.owner, localdate(now)
    draft = above.quote.write_quote(
        story.job.pk, vat_kind="standard", by=by, today=today, now=now
    )
    if story.told.quotes[n].is_sent:
        days = Firm.objects.get().quote_valid_days
        until_on = today + timedelta(days=days)
        above.quote.send_quote(
            draft.pk, valid_until_on=until_on, by=by, today=today, now=now
        )


def answer(story: Story, now: datetime) -> None:
    said = story.told.answer
    if said is None:
        return
    version = _out(story)
    if said.yes:
        above.acceptance.accept_quote(
            version.pk,
            digest=version.digest,
            typed_name=story.stage.customers[story.told.customer].name,
            asks_early_start=said.asks_early_start,
            from_address=None,
            today=localdate(now),
            now=now,
            taken_by=story.stage.cast.office if said.how else None,
            taken_how=said.how,
        )
    else:
        above.acceptance.decline_quote(
            version.pk, digest=version.digest, because=said.because, now=now
        )


def _out(story: Story) -> Any:
    versions = above.quote_models.QuoteVersion.objects.out()
    return versions.get(quote__job=story.job)
