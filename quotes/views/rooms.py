from typing import Any

from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from quotes.actions.room import (
    RoomFacts,
    Side,
    WallState,
    copy_room,
    remove_room,
    save_room,
)
from quotes.forms.look import PressForm
from quotes.forms.room import RoomSheet
from quotes.models import Look, Room
from quotes.queries.look import look_at, room_in, room_names, room_words
from quotes.queries.sheet import room_card
from quotes.views.second import came_second

PRESS_AGAIN = "Press it once more: the page had not loaded whole."


@require_GET
def room(request: OurRequest, job_id: int, room_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    return _room_page(request, look, room_in(look, room_id))


@require_http_methods(["GET", "POST"])
def new(request: OurRequest, job_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    sheet = RoomSheet(request.POST or None, shape=_shape(request), version=look.version)
    context: dict[str, Any] = {"job": look.job, "look": look, "sheet": sheet}
    if sheet.is_valid():
        try:
            saved = _save(request, look, sheet, room=None)
        except Refused as refusal:
            sheet.form.refuse(refusal)
            look = look_at(request.user, job_id)
            saved_now = room_names(look)
            context |= came_second(refusal, sheet.form, look=look, saved=saved_now)
        else:
            return go_to(request, reverse("quotes:room", args=[job_id, saved.pk]))
    return _form_page(request, context, sheet)


@require_http_methods(["GET", "POST"])
def change(request: OurRequest, job_id: int, room_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    found = room_in(look, room_id)
    sheet = RoomSheet(
        request.POST or None,
        shape=_shape(request, room=found),
        version=look.version,
        room=found,
    )
    context: dict[str, Any] = {
        "job": look.job,
        "look": look,
        "room": found,
        "sheet": sheet,
    }
    if sheet.is_valid():
        try:
            _save(request, look, sheet, room=found)
        except Refused as refusal:
            sheet.form.refuse(refusal)
            look = look_at(request.user, job_id)
            words = room_words(room_in(look, room_id))
            context |= came_second(refusal, sheet.form, look=look, saved=words)
        else:
            return go_to(request, reverse("quotes:room", args=[job_id, room_id]))
    return _form_page(request, context, sheet)


@require_POST
def copy(request: OurRequest, job_id: int, room_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    found = room_in(look, room_id)
    form = PressForm(request.POST)
    if not form.is_valid():
        return _room_page(request, look, found, refused=PRESS_AGAIN)
    try:
        twin = copy_room(
            job_id,
            room_id,
            version=form.cleaned_data["version"],
            by=request.user,
            now=timezone.now(),
        )
    except Refused as refusal:
        look = look_at(request.user, job_id)
        return _room_page(request, look, found, refused=refusal.text)
    return go_to(request, reverse("quotes:room-change", args=[job_id, twin.pk]))


@require_http_methods(["GET", "POST"])
def remove(request: OurRequest, job_id: int, room_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    found = room_in(look, room_id)
    form = PressForm(request.POST or None, initial={"version": look.version})
    context: dict[str, Any] = {
        "job": look.job,
        "look": look,
        "room": found,
        "form": form,
        "words": room_words(found),
    }
    if form.is_valid():
        try:
            remove_room(
                job_id,
                room_id,
                version=form.cleaned_data["version"],
                by=request.user,
                now=timezone.now(),
            )
        except Refused as refusal:
            form.refuse(refusal)
            look = look_at(request.user, job_id)
            context |= came_second(refusal, form, look=look, saved=())
        else:
            return go_to(request, look)
    return page_or_part(
        request,
        "quotes/look/room_remove.html",
        "quotes/look/_room_remove_form.html",
        context,
        invalid=bool(form.errors),
    )


def _save(
    request: OurRequest, look: Look, sheet: RoomSheet, *, room: Room | None
) -> Room:
    walls = list(room.walls.all()) if room else []
    return save_room(
        look.job_id,
        room_id=room.pk if room else None,
        facts=RoomFacts(
            **sheet.facts(),
            sides=tuple(Side(**side) for side in sheet.sides(walls)),
            state=WallState(**sheet.form.state()) if sheet.is_new else None,
        ),
        version=sheet.form.cleaned_data["version"],
        by=request.user,
        now=timezone.now(),
    )


def _shape(request: OurRequest, *, room: Room | None = None) -> str:
    """Return how the room is entered; a rectangle may be walked, a walk stays one."""
    asked = request.POST.get("shape") or request.GET.get("shape")
    is_walk = asked == Room.Shape.WALKED or (room and room.shape == Room.Shape.WALKED)
    return Room.Shape.WALKED if is_walk else Room.Shape.RECTANGLE


def _room_page(
    request: OurRequest, look: Look, found: Room, *, refused: str = ""
) -> HttpResponse:
    return page_or_part(
        request,
        "quotes/look/room.html",
        "quotes/look/_room.html",
        {
            "job": look.job,
            "look": look,
            "card": room_card(found, ours=look.basis),
            "refused": refused,
        },
        invalid=bool(refused),
    )


def _form_page(
    request: OurRequest, context: dict[str, Any], sheet: RoomSheet
) -> HttpResponse:
    return page_or_part(
        request,
        "quotes/look/room_form.html",
        "quotes/look/_room_form.html",
        context,
        invalid=sheet.is_wrong,
    )
