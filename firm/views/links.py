"""The door for people without an account: a key in an address, swapped at once."""

from datetime import timedelta

from allauth.account.adapter import get_adapter
from django.contrib.auth.decorators import login_not_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from firm.models import SignedLink
from firm.queries.links import PAGES, SESSION_KEY, open_link, session_entry
from firm.views.errors import answer_with

MOST_MISSES = 20
MISSES_KEPT = timedelta(minutes=10)


@login_not_required
@never_cache
@require_safe
def open_door(request: HttpRequest, token: str) -> HttpResponse:
    misses = f"link-misses:{get_adapter().get_client_ip(request)}"
    if cache.get(misses, 0) >= MOST_MISSES:
        return answer_with(429)
    link = open_link(token, now=timezone.now())
    if link is None:
        _count(misses)
        return render(request, "firm/link/gone.html", status=404)
    return _swap(request, link)


def _count(misses: str) -> None:
    cache.add(misses, 0, MISSES_KEPT.total_seconds())
    try:
        cache.incr(misses)
    except ValueError:
        # It ended between the two lines: ten minutes without a miss are over.
        cache.set(misses, 1, MISSES_KEPT.total_seconds())


def _swap(request: HttpRequest, link: SignedLink) -> HttpResponse:
    if request.method == "GET":
        opened = request.session.get(SESSION_KEY, {})
        entry = session_entry(link, now=timezone.now())
        request.session[SESSION_KEY] = {**opened, link.purpose: entry}
        request.session.cycle_key()
    return HttpResponse(
        status=303,
        headers={
            "Location": reverse(PAGES[link.purpose]),
            "Referrer-Policy": "no-referrer",
            "X-Robots-Tag": "noindex",
        },
    )
