"""How every view answers: a page, the part of it that htmx asked for, or "go there"."""

from typing import Any

from django.db.models import Model
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render, resolve_url
from django.utils.cache import patch_vary_headers
from django_htmx.http import HttpResponseClientRedirect
from django_htmx.middleware import HtmxDetails

from firm.models import Person


class OurRequest(HttpRequest):
    """A request behind the sign-in: somebody of the firm, and htmx's own headers."""

    user: Person
    htmx: HtmxDetails


def page_or_part(
    request: HttpRequest,
    page_template: str,
    part_template: str,
    context: dict[str, Any],
    *,
    invalid: bool = False,
) -> HttpResponse:
    """Render the whole page, or only its part when htmx will put it in place.

    Typing that was refused answers 422 with the typing kept. When htmx restores
    history it needs the whole page, or Back shows a scrap of one.
    """
    template = part_template if _wants_part(request) else page_template
    status = 422 if invalid else 200
    answer = render(request, template, context | {"is_invalid": invalid}, status=status)
    patch_vary_headers(answer, ["HX-Request"])
    return answer


def go_to(request: HttpRequest, where: Model | str) -> HttpResponse:
    """Send the person to a thing's own page, a URL or a URL name."""
    url = resolve_url(where)
    if _wants_part(request):
        return HttpResponseClientRedirect(url)
    return HttpResponse(status=303, headers={"Location": url})


def _wants_part(request: HttpRequest) -> bool:
    htmx: HtmxDetails | None = getattr(request, "htmx", None)
    if not htmx:
        return False
    return not (htmx.history_restore_request or htmx.boosted)
