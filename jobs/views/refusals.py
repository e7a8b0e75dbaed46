"""What a view does with a refusal: beside the field, or at the head of the page."""

from collections.abc import Callable

from django import forms
from django.contrib import messages
from django.db.models import Model
from django.http import HttpResponse

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to


def say(form: forms.Form, refusal: Refused) -> None:
    """Put the sentence beside its field, or above the form when it has none."""
    field = refusal.field if refusal.field in form.fields else None
    form.add_error(field, str(refusal))


def press(request: OurRequest, act: Callable[[], object], back: Model) -> HttpResponse:
    """Do what a button alone asks for, and say on the page why it was refused."""
    try:
        act()
    except Refused as refusal:
        messages.error(request, str(refusal))
    return go_to(request, back)
