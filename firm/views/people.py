from datetime import datetime
from typing import Protocol

from django.http import Http404, HttpResponse
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods, require_POST

from firm import may
from firm.actions import person as actions
from firm.engine.refusal import Refused
from firm.forms.person import NewPersonForm, PersonForm
from firm.models import Person
from firm.queries import firm as queries
from firm.views.pages import OurRequest, go_to, page_or_part

PAGE, PART = "firm/person/change.html", "firm/person/_change_form.html"


class Press(Protocol):
    def __call__(self, person_id: int, /, *, by: Person, now: datetime) -> None: ...


@require_http_methods(["GET", "POST"])
def new_person(request: OurRequest) -> HttpResponse:
    if not may.run_the_firm(request.user):
        raise Http404
    form = NewPersonForm(request.POST or None)
    if form.is_valid():
        try:
            actions.add_person(
                **form.cleaned_data,
                firm_name=str(queries.the_firm()),
                by=request.user,
                now=now(),
            )
        except Refused as refusal:
            _say(form, refusal)
        else:
            return go_to(request, "firm:firm")
    context = {"form": form, "title": "Somebody new"}
    return page_or_part(request, PAGE, PART, context, invalid=bool(form.errors))


@require_http_methods(["GET", "POST"])
def change_person(request: OurRequest, person_id: int) -> HttpResponse:
    person = _person(request, person_id)
    form = PersonForm(
        request.POST or None,
        initial={
            "name": person.name,
            "phone": person.phone,
            "role": person.role,
            "crew": person.crew_id,
        },
    )
    if form.is_valid():
        try:
            actions.change_person(
                person.pk, **form.cleaned_data, by=request.user, now=now()
            )
        except Refused as refusal:
            _say(form, refusal)
        else:
            return go_to(request, "firm:firm")
    context = {"form": form, "title": person.name, "person": person}
    return page_or_part(request, PAGE, PART, context, invalid=bool(form.errors))


@require_POST
def show_out(request: OurRequest, person_id: int) -> HttpResponse:
    return _press(request, person_id, actions.show_out)


@require_POST
def let_back_in(request: OurRequest, person_id: int) -> HttpResponse:
    return _press(request, person_id, actions.let_back_in)


def _press(request: OurRequest, person_id: int, action: Press) -> HttpResponse:
    person = _person(request, person_id)
    try:
        action(person.pk, by=request.user, now=now())
    except Refused as refusal:
        form = PersonForm(initial={"name": person.name, "role": person.role})
        context = {"form": form, "person": person, "title": person.name}
        context["refusal"] = str(refusal)
        return page_or_part(request, PAGE, PART, context, invalid=True)
    return go_to(request, "firm:firm")


def _person(request: OurRequest, person_id: int) -> Person:
    person = queries.person_for(request.user, person_id)
    if person is None:
        raise Http404
    return person


def _say(form: PersonForm, refusal: Refused) -> None:
    known = refusal.field if refusal.field in form.fields else None
    form.add_error(known, str(refusal))
