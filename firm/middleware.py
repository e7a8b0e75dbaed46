"""What every request passes: safe headers, clean text, and a check at the door."""

from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import urlencode, urlsplit

from django.conf import settings
from django.contrib.auth import logout
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_cache_control
from django_htmx.http import HttpResponseClientRedirect

from firm import may
from firm.engine.refusal import Refused
from firm.models import Person
from firm.views import errors

Answer = Callable[[HttpRequest], HttpResponse]

CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self';"
    " img-src 'self' data: blob:; font-src 'self'; connect-src 'self';"
    " worker-src 'self'; manifest-src 'self'; form-action 'self';"
    " frame-ancestors 'none'; base-uri 'none'; object-src 'none'"
)
NOT_USED_HERE = "camera=(), geolocation=(), microphone=(), payment=(), usb=()"
SEARCH_LIMIT = 200
DOOR = "/sign-in/"
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


class SafeHeaders:
    """A strict content policy on everything, and nothing private left in a cache."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        answer = self.get_response(request)
        answer.headers.setdefault("Content-Security-Policy", CONTENT_POLICY)
        answer.headers.setdefault("Permissions-Policy", NOT_USED_HERE)
        answer.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        if not request.path.startswith(settings.STATIC_URL):
            patch_cache_control(answer, private=True, no_store=True)
        return answer


class CleanText:
    """Refuse what no keyboard types: PostgreSQL stops at a NUL, SQLite at a
    search of a hundred thousand letters."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if "\0" in request.path or _has_nul(request.GET.lists()):
            return errors.answer_with(
                400, "The address holds a character that cannot be typed."
            )
        if len(request.GET.get("q", "")) > SEARCH_LIMIT:
            return errors.answer_with(
                400, f"Search for {SEARCH_LIMIT} letters or fewer."
            )
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_view: Any) -> HttpResponse | None:
        if request.method == "POST" and (
            _has_nul(request.POST.lists()) or _has_nul(_file_names(request))
        ):
            return errors.answer_with(
                400,
                "What was sent holds a character that cannot be typed. Type that"
                " field afresh rather than pasting it: nothing was saved.",
            )
        return None


class StaysOurs:
    """Turn away posts from other sites, and people who have left the firm."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        site = request.headers.get("Sec-Fetch-Site", "")
        if site == "cross-site" and request.method not in SAFE_METHODS:
            return errors.answer_with(
                403, "That came from another site. Open the page here and press again."
            )
        person = request.user
        if isinstance(person, Person) and not may.use_the_office(person):
            logout(request)
        return _whole_page(request, self.get_response(request))

    def process_exception(
        self, _request: HttpRequest, trouble: Exception
    ) -> HttpResponse | None:
        """Say that somebody else was saving, rather than that something broke."""
        if isinstance(trouble, OperationalError):
            return errors.records_busy(trouble)
        if isinstance(trouble, Refused):
            return errors.answer_with(422, trouble.text)
        return None


def _whole_page(request: HttpRequest, answer: HttpResponse) -> HttpResponse:
    """Let the sign-in page take the whole window, not the part that was asked for."""
    door = answer.headers.get("Location", "")
    is_part = request.headers.get("HX-Request") == "true"
    if is_part and answer.status_code == 302 and door.startswith(DOOR):
        here = urlsplit(request.headers.get("HX-Current-URL", "")).path or "/"
        return HttpResponseClientRedirect(f"{DOOR}?{urlencode({'next': here})}")
    return answer


def _has_nul(fields: Any) -> bool:
    return any("\0" in word for name, words in fields for word in (name, *words))


def _file_names(request: HttpRequest) -> Iterator[tuple[str, list[str]]]:
    for name, files in request.FILES.lists():
        yield name, [file.name or "" for file in files]
