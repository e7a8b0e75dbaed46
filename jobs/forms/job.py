from django import forms

from jobs.forms.contact import LineField, LinesField, PostcodeField
from jobs.forms.customer import NOT_OURS
from jobs.forms.visit import DayField


class WhereForm(forms.Form):
    """Where the plaster goes on, and how to get to it."""

    address = LinesField(
        ask="Give the address of the work.",
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3, **NOT_OURS}),
    )
    postcode = PostcodeField(
        ask="Give the postcode of the work.",
        max_length=20,
        widget=forms.TextInput(attrs=NOT_OURS),
    )
    way_in = LineField(
        label="Way in",
        max_length=200,
        required=False,
        help_text="Key, gate, floor, who opens.",
    )
    parking = LineField(max_length=200, required=False)


class WhatForm(forms.Form):
    """What was asked for."""

    what = LineField(
        label="The job in a few words",
        ask="Say in a few words what the job is.",
        max_length=120,
        help_text="For example: skim two bedrooms.",
    )
    said = LinesField(
        label="What they said",
        max_length=4000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 5}),
    )
    wanted_by_on = DayField(label="Wanted by", required=False)
    others_on_site = LineField(
        label="Who else is on site",
        max_length=200,
        required=False,
        help_text="Other trades, people living there, pets.",
    )
    heard_of_us = LineField(label="How they heard of us", max_length=80, required=False)


class JobForm(WhatForm, WhereForm):
    pass


class LostForm(forms.Form):
    because = LineField(
        label="Why it is not going ahead",
        ask="Say in a few words why it is not going ahead.",
        max_length=200,
        help_text="For example: too dear, found somebody sooner, no answer.",
    )
