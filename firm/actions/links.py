import hashlib
import secrets
from datetime import datetime

from django.conf import settings
from django.db import transaction

from firm.models import SignedLink


@transaction.atomic
def make_link(
    *, purpose: str, about_id: int, expires_at: datetime, now: datetime
) -> str:
    """Return an address that opens one paper; only its digest is kept."""
    token = secrets.token_urlsafe(32)
    SignedLink.objects.create(
        digest=hashlib.sha256(token.encode()).hexdigest(),
        purpose=purpose,
        about_id=about_id,
        made_at=now,
        expires_at=expires_at,
    )
    return f"{settings.FIRM_ADDRESS}/l/{token}/"


@transaction.atomic
def revoke_links(*, purpose: str, about_id: int, now: datetime) -> int:
    """Shut every link to a thing, sessions opened by them included."""
    open_ones = SignedLink.objects.filter(
        purpose=purpose, about_id=about_id, revoked_at=None
    )
    return open_ones.update(revoked_at=now)
