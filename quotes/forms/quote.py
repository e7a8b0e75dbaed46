from datetime import date, timedelta

from django import forms

from firm.forms.day import DayField

VAT_KINDS = [
    ("standard", "Standard: repairs, alterations, extensions, ordinary homes"),
    ("reduced", "Reduced: conversions, or a home that stood empty for two years"),
    ("zero", "Nil: building a new home"),
]


class WriteForm(forms.Form):
    vat_kind = forms.ChoiceField(
        label="VAT on this job",
        choices=VAT_KINDS,
        help_text="The job decides the rate. If in doubt, ask the tax office or an"
        " adviser.",
    )


class SendForm(forms.Form):
    valid_until_on = DayField(label="Stands until")


class YesForm(forms.Form):
    """The customer's yes, tied to the words that were on the page."""

    digest = forms.CharField(max_length=64, widget=forms.HiddenInput)
    typed_name = forms.CharField(
        label="Your name",
        max_length=80,
        widget=forms.TextInput({"autocomplete": "name"}),
    )
    asks_early_start = forms.BooleanField(
        label="Please start within the 14 days in which I may still cancel. I know that"
        " I then pay for what has been done if I cancel.",
        required=False,
    )


class NoForm(forms.Form):
    digest = forms.CharField(max_length=64, widget=forms.HiddenInput)
    because = forms.CharField(
        label="Would you tell us why?",
        max_length=300,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


class HeardYesForm(forms.Form):
    """A yes that somebody in the office heard or was handed."""

    digest = forms.CharField(max_length=64, widget=forms.HiddenInput)
    typed_name = forms.CharField(label="Who said yes", max_length=80)
    taken_how = forms.CharField(
        label="How", max_length=120, help_text="By phone on Tuesday, signed paper, …"
    )


def usual_end(today: date, *, days: int) -> date:
    return today + timedelta(days=days)
