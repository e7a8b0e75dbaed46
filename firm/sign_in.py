"""The firm's own manners at the door: who may come in, and with what words.

Signing in is allauth's work. Here it learns that nobody signs up, that the
second factor's seed lies sealed in the database, and that a letter about a
forgotten password goes through the tray as every other letter does.
"""

import hashlib
from base64 import urlsafe_b64decode, urlsafe_b64encode
from datetime import timedelta
from secrets import token_bytes
from typing import Any, ClassVar

from allauth.account.adapter import DefaultAccountAdapter
from allauth.mfa.adapter import DefaultMFAAdapter
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.encoding import force_bytes

from firm import may
from firm.actions import tray
from firm.models import Person

NOT_TOGETHER = (
    "That address and password do not go together. Check both, or have a new"
    " password sent."
)
TOO_OFTEN = "Too many tries. Wait five minutes, then try again."
NONCE_BYTES = 12


class OurDoor(DefaultAccountAdapter):
    error_messages: ClassVar[dict[str, Any]] = {
        **DefaultAccountAdapter.error_messages,
        "account_inactive": NOT_TOGETHER,
        "email_password_mismatch": NOT_TOGETHER,
        "invalid_login": NOT_TOGETHER,
        "too_many_login_attempts": TOO_OFTEN,
        "rate_limited": TOO_OFTEN,
        "incorrect_password": "That is not your password. Type it again.",
        "enter_current_password": "That is not your password now. Type it again.",
        "incorrect_code": "That code does not fit. Wait for the next one and type it.",
        "invalid_password_reset": "This link has been used or is too old.",
    }

    def is_open_for_signup(self, _request: HttpRequest) -> bool:
        return False

    def authenticate(self, request: HttpRequest, **credentials: Any) -> Person | None:
        """Let in only people of the firm; a leaver hears what a stranger hears."""
        person = super().authenticate(request, **credentials)
        if isinstance(person, Person) and may.use_the_office(person):
            return person
        return None

    def respond_user_inactive(self, _request: HttpRequest, _user: Any) -> HttpResponse:
        return redirect("account_login")

    def send_password_reset_mail(
        self, user: Any, email: str, context: dict[str, Any]
    ) -> None:
        if may.use_the_office(user):
            super().send_password_reset_mail(user, email, context)

    def get_reset_password_from_key_url(self, key: str) -> str:
        """Start from the firm's address, never from the one the request claims."""
        uid, _, token = key.partition("-")
        path = reverse("account_reset_password_from_key", args=[uid, token])
        return f"{settings.FIRM_ADDRESS}{path}"

    def send_mail(
        self, template_prefix: str, email: str, context: dict[str, Any]
    ) -> None:
        person = context["user"]
        letter = self.render_mail(template_prefix, email, context)
        once = hashlib.sha256(str(letter.body).encode()).hexdigest()[:32]
        now = timezone.now()
        tray.leave_notice(
            key=f"sign-in:{person.pk}:{once}",
            kind="sign-in",
            to_name=person.name,
            to_address=email,
            subject=letter.subject,
            text=str(letter.body),
            about=("person", person.pk),
            due_at=now,
            now=now,
            expires_at=now + timedelta(seconds=settings.PASSWORD_RESET_TIMEOUT),
        )

    def format_email_subject(self, subject: str) -> str:
        return subject


class SecondFactor(DefaultMFAAdapter):
    error_messages: ClassVar[dict[str, Any]] = {
        **DefaultMFAAdapter.error_messages,
        "incorrect_code": OurDoor.error_messages["incorrect_code"],
    }

    def encrypt(self, text: str) -> str:
        nonce = token_bytes(NONCE_BYTES)
        sealed = AESGCM(_key(settings.SECRET_KEY)).encrypt(nonce, text.encode(), None)
        return urlsafe_b64encode(nonce + sealed).decode()

    def decrypt(self, encrypted_text: str) -> str:
        """Open a seed with today's key, or with one that a change left behind."""
        raw = urlsafe_b64decode(encrypted_text)
        nonce, sealed = raw[:NONCE_BYTES], raw[NONCE_BYTES:]
        for secret in (settings.SECRET_KEY, *settings.SECRET_KEY_FALLBACKS):
            try:
                return AESGCM(_key(secret)).decrypt(nonce, sealed, None).decode()
            except InvalidTag:
                continue
        raise InvalidTag("No key of the firm opens this seed.")


def _key(secret: str | bytes) -> bytes:
    """Derive the seeds' own key, so that one secret never serves two purposes."""
    derive = HKDF(algorithm=SHA256(), length=32, salt=None, info=b"second factor")
    return derive.derive(force_bytes(secret))
