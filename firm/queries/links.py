"""Open a signed link, and remember in the session what it opened."""

import hashlib
from datetime import datetime, timedelta
from typing import Any

from django.contrib.sessions.backends.base import SessionBase

from firm.models import SignedLink

OPEN_FOR = timedelta(minutes=30)
SESSION_KEY = "link"
# The page that each purpose opens, by the name of its address.
PAGES = {"quote": "quotes:letter", "bill": "invoices:letter"}


def open_link(token: str, purpose: str = "", *, now: datetime) -> SignedLink | None:
    digest = hashlib.sha256(token.encode()).hexdigest()
    links = SignedLink.objects.filter(
        digest=digest, expires_at__gt=now, revoked_at=None
    )
    return (links.filter(purpose=purpose) if purpose else links).first()


def session_entry(link: SignedLink, *, now: datetime) -> dict[str, Any]:
    until = min(link.expires_at, now + OPEN_FOR)
    return {"id": link.about_id, "link": link.pk, "until": until.timestamp()}


def linked_id(session: SessionBase, purpose: str, *, now: datetime) -> int | None:
    """Return what this visitor's link opens, or None when it opens no longer."""
    entry = session.get(SESSION_KEY, {}).get(purpose)
    if entry is None or entry["until"] <= now.timestamp():
        return None
    links = SignedLink.objects.filter(
        pk=entry["link"], purpose=purpose, expires_at__gt=now, revoked_at=None
    )
    return entry["id"] if links.exists() else None
