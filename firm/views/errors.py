"""What a person reads when a page cannot be had: a sentence, and a reference."""

import logging
import sys
from secrets import token_hex

from django.core.exceptions import (
    RequestDataTooBig,
    TooManyFieldsSent,
    TooManyFilesSent,
)
from django.db import OperationalError
from django.http import Http404, HttpRequest, HttpResponse
from django.template.loader import render_to_string

logger = logging.getLogger("firm.errors")

SOMEONE_IS_SAVING = "Someone else is saving. Press again: nothing was saved."
RECORDS_AWAY = (
    "The office cannot reach its records just now. Try again in a minute, and look"
    " whether the last thing was saved before you do it again."
)
# PostgreSQL's codes for lost to a lock, a timeout, a deadlock or a rival.
LOST_TO_ANOTHER = frozenset({"55P03", "57014", "40P01", "40001"})


def answer_with(status: int, sentence: str = "") -> HttpResponse:
    """Render one error page: its own, plain, asking nothing of the database."""
    reference = token_hex(4)
    logger.warning("answered status=%s reference=%s", status, reference)
    context = {"sentence": sentence, "reference": reference}
    page = render_to_string(f"errors/{status}.html", context)
    return HttpResponse(page, status=status)


def bad_request(_request: HttpRequest, exception: Exception) -> HttpResponse:
    if isinstance(exception, RequestDataTooBig | TooManyFieldsSent | TooManyFilesSent):
        return answer_with(413)
    return answer_with(400)


def not_allowed(_request: HttpRequest, exception: Exception) -> HttpResponse:
    return answer_with(403, _our_sentence(exception))


def not_found(_request: HttpRequest, exception: Exception) -> HttpResponse:
    return answer_with(404, _our_sentence(exception))


def gone_wrong(_request: HttpRequest) -> HttpResponse:
    trouble = sys.exc_info()[1]
    if isinstance(trouble, OperationalError):
        return records_busy(trouble)
    return answer_with(500)


def records_busy(trouble: OperationalError) -> HttpResponse:
    sentence = SOMEONE_IS_SAVING if _lost_to_another(trouble) else RECORDS_AWAY
    answer = answer_with(503, sentence)
    answer["Retry-After"] = "5"
    return answer


def form_went_stale(_request: HttpRequest, **_reason: str) -> HttpResponse:
    return answer_with(
        403,
        "This page stood open too long, or the browser keeps no cookies. Go back,"
        " load the page again and press once more: nothing was saved.",
    )


def _lost_to_another(trouble: OperationalError) -> bool:
    code = getattr(trouble.__cause__, "sqlstate", None)
    return code in LOST_TO_ANOTHER or "locked" in str(trouble)


def _our_sentence(exception: Exception) -> str:
    """Return the words that a view gave, and none that Django made up."""
    words = exception.args[0] if exception.args else ""
    if not isinstance(words, str) or not words.endswith("."):
        return ""
    made_up = isinstance(exception, Http404) and "matches the given query" in words
    return "" if made_up else words
