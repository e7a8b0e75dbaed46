from typing import Any

from django import forms

from jobs.forms.customer import WhoForm
from jobs.forms.job import WhatForm, WhereForm
from jobs.forms.visit import VisitForm
from jobs.models import Customer


class SomebodyElseForm(forms.Form):
    somebody_else = forms.BooleanField(
        label="It is somebody else with the same number or name", required=False
    )


class EnquiryForm(SomebodyElseForm, WhoForm, WhereForm, WhatForm, VisitForm):
    """Everything that is said on the phone, on one page."""

    no_visit_words = "No visit yet"
    customer = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, known: Customer | None, **options: Any) -> None:
        super().__init__(*args, **options)
        if known is not None:
            # Somebody chosen by mistake must not be renamed into the caller.
            self.fields["name"].widget.attrs["readonly"] = True
