from typing import Any

from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from quotes.actions.room import WallState
from quotes.actions.wall import set_wall, set_walls
from quotes.forms.wall import STATE, StateForm, WallForm
from quotes.models import Wall
from quotes.queries.look import look_at, room_in, wall_in, wall_words, walls_words
from quotes.views.second import came_second


@require_http_methods(["GET", "POST"])
def wall(request: OurRequest, job_id: int, room_id: int, wall_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    room = room_in(look, room_id)
    found = wall_in(room, wall_id)
    form = WallForm(
        request.POST or None, initial=_initial(found) | {"version": look.version}
    )
    context = {"job": look.job, "look": look, "room": room, "wall": found, "form": form}
    if form.is_valid():
        try:
            set_wall(
                job_id,
                room_id,
                wall_id,
                state=WallState(**form.state()),
                version=form.cleaned_data["version"],
                by=request.user,
                now=timezone.now(),
            )
        except Refused as refusal:
            form.refuse(refusal)
            look = look_at(request.user, job_id)
            saved = wall_words(wall_in(room_in(look, room_id), wall_id))
            context |= came_second(refusal, form, look=look, saved=(saved,))
        else:
            return go_to(request, reverse("quotes:room", args=[job_id, room_id]))
    return _page(request, context, form)


@require_http_methods(["GET", "POST"])
def all_walls(request: OurRequest, job_id: int, room_id: int) -> HttpResponse:
    look = look_at(request.user, job_id)
    room = room_in(look, room_id)
    alike = next(iter(room.walls.all()), None)
    initial = (_initial(alike) if alike else {}) | {"version": look.version}
    form = StateForm(request.POST or None, initial=initial)
    context = {"job": look.job, "look": look, "room": room, "form": form}
    if form.is_valid():
        try:
            set_walls(
                job_id,
                room_id,
                state=WallState(**form.state()),
                version=form.cleaned_data["version"],
                by=request.user,
                now=timezone.now(),
            )
        except Refused as refusal:
            form.refuse(refusal)
            look = look_at(request.user, job_id)
            saved = walls_words(room_in(look, room_id))
            context |= came_second(refusal, form, look=look, saved=saved)
        else:
            return go_to(request, reverse("quotes:room", args=[job_id, room_id]))
    return _page(request, context, form)


def _initial(found: Wall) -> dict[str, Any]:
    return {name: getattr(found, name) or "" for name in STATE} | {"is_in": found.is_in}


def _page(
    request: OurRequest, context: dict[str, Any], form: StateForm
) -> HttpResponse:
    return page_or_part(
        request,
        "quotes/look/wall.html",
        "quotes/look/_wall_form.html",
        context,
        invalid=bool(form.errors),
    )
