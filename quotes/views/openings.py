from typing import Any

from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from quotes.actions.opening import OpeningFacts, remove_opening, save_opening
from quotes.forms.look import PressForm
from quotes.forms.opening import OpeningForm, typed_opening
from quotes.models import Look, Room
from quotes.queries.look import (
    look_at,
    opening_in,
    opening_words,
    openings_words,
    room_in,
)
from quotes.views.second import came_second


@require_http_methods(["GET", "POST"])
def new(request: OurRequest, job_id: int, room_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    room = room_in(look, room_id)
    initial = {"on": request.GET.get("on", ""), "version": look.version}
    form = _form(request, room, initial)
    context = {"job": look.job, "look": look, "room": room, "form": form}
    return _save_or_show(request, look, room, form, context)


@require_http_methods(["GET", "POST"])
def change(
    request: OurRequest, job_id: int, room_id: int, opening_id: int
) -> HttpResponse:
    look = look_at(request.user, job_id)
    room = room_in(look, room_id)
    opening = opening_in(room, opening_id)
    form = _form(request, room, typed_opening(opening) | {"version": look.version})
    context = {
        "job": look.job,
        "look": look,
        "room": room,
        "opening": opening,
        "form": form,
    }
    return _save_or_show(request, look, room, form, context)


@require_http_methods(["GET", "POST"])
def remove(
    request: OurRequest, job_id: int, room_id: int, opening_id: int
) -> HttpResponse:
    look = look_at(request.user, job_id)
    room = room_in(look, room_id)
    opening = opening_in(room, opening_id)
    form = PressForm(request.POST or None, initial={"version": look.version})
    context = {
        "job": look.job,
        "look": look,
        "room": room,
        "opening": opening,
        "words": opening_words(opening),
        "form": form,
    }
    if form.is_valid():
        try:
            remove_opening(
                job_id,
                room_id,
                opening_id,
                version=form.cleaned_data["version"],
                by=request.user,
                now=timezone.now(),
            )
        except Refused as refusal:
            form.refuse(refusal)
            look = look_at(request.user, job_id)
            context |= came_second(refusal, form, look=look, saved=())
        else:
            return go_to(request, reverse("quotes:room", args=[job_id, room_id]))
    return page_or_part(
        request,
        "quotes/look/opening_remove.html",
        "quotes/look/_opening_remove_form.html",
        context,
        invalid=bool(form.errors),
    )


def _form(request: OurRequest, room: Room, initial: dict[str, Any]) -> OpeningForm:
    return OpeningForm(
        request.POST or None,
        initial=initial,
        walls=room.walls.all(),
        has_ceiling=room.has_ceiling,
    )


def _save_or_show(
    request: OurRequest,
    look: Look,
    room: Room,
    form: OpeningForm,
    context: dict[str, Any],
) -> HttpResponse:
    opening = context.get("opening")
    if form.is_valid():
        try:
            save_opening(
                look.job_id,
                room.pk,
                opening_id=opening.pk if opening else None,
                facts=OpeningFacts(**form.facts()),
                version=form.cleaned_data["version"],
                by=request.user,
                now=timezone.now(),
            )
        except Refused as refusal:
            form.refuse(refusal)
            look = look_at(request.user, look.job_id)
            saved = openings_words(room_in(look, room.pk))
            context |= came_second(refusal, form, look=look, saved=saved)
        else:
            return go_to(request, reverse("quotes:room", args=[look.job_id, room.pk]))
    return page_or_part(
        request,
        "quotes/look/opening.html",
        "quotes/look/_opening_form.html",
        context,
        invalid=bool(form.errors),
    )
