from collections.abc import Callable
from datetime import datetime
from typing import Protocol

from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from firm import may
from firm.actions import tray as actions
from firm.engine.refusal import Refused
from firm.models import Notice, Person
from firm.queries.tray import (
    A_PAGE,
    attempts_of,
    letter_for,
    settled,
    stuck,
    waiting,
)
from firm.views.pages import OurRequest, go_to, page_or_part

LATEST = 10
NOT_YOURS = "Only the office and the bookkeeper can see the tray."


class Move(Protocol):
    def __call__(self, notice_id: int, *, by: Person, now: datetime) -> None: ...


@require_GET
def tray(request: OurRequest) -> HttpResponse:
    _insist(request.user)
    context = {
        "stuck": stuck()[:A_PAGE],
        "waiting": waiting()[:A_PAGE],
        "settled": settled()[:LATEST],
        "now": timezone.now(),
    }
    return render(request, "firm/tray/tray.html", context)


@require_GET
def went(request: OurRequest, before: int | None = None) -> HttpResponse:
    _insist(request.user)
    first = letter_for(request.user, before) if before else None
    letters = list(settled(before=first)[: A_PAGE + 1])
    context = {
        "letters": letters[:A_PAGE],
        "older_than": letters[A_PAGE - 1] if len(letters) > A_PAGE else None,
    }
    return render(request, "firm/tray/went.html", context)


@require_GET
def letter(request: OurRequest, notice_id: int) -> HttpResponse:
    return _letter_page(request, letter_for(request.user, notice_id))


def _letter_page(
    request: OurRequest, notice: Notice, refusal: str = ""
) -> HttpResponse:
    context = {
        "letter": notice,
        "attempts": attempts_of(notice),
        "refusal": refusal,
        "may_work": may.work_the_tray(request.user),
    }
    return page_or_part(
        request,
        "firm/tray/letter.html",
        "firm/tray/_letter.html",
        context,
        invalid=bool(refusal),
    )


def _insist(person: Person) -> None:
    if not may.see_the_tray(person):
        raise PermissionDenied(NOT_YOURS)


def _by_button(move: Move) -> Callable[[OurRequest, int], HttpResponse]:
    """Make the view of one button: it moves the letter, or says why it cannot."""

    @require_POST
    def press(request: OurRequest, notice_id: int) -> HttpResponse:
        notice = letter_for(request.user, notice_id)
        if not may.work_the_tray(request.user):
            raise PermissionDenied(actions.ONLY_THE_OFFICE)
        try:
            move(notice.pk, by=request.user, now=timezone.now())
        except Refused as refusal:
            return _letter_page(request, notice, refusal.text)
        return go_to(request, notice)

    return press


hold = _by_button(actions.hold_notice)
let_go = _by_button(actions.let_notice_go)
stop = _by_button(actions.stop_notice)
send_now = _by_button(actions.send_notice_now)
arrived = _by_button(actions.note_arrived)
send_again = _by_button(actions.send_notice_again)
