from django import forms

from firm.forms.day import DayField
from firm.models import Crew

HIDDEN_DAY = forms.DateInput({"type": "hidden"}, format="%Y-%m-%d")
HALVES = [("am", "Morning"), ("pm", "Afternoon")]
DAY_WORDS = "Give the day, for example 9/3/2027."


class BookingForm(forms.Form):
    """A crew and the half-day on which it starts; the length is worked out."""

    crew = forms.ModelChoiceField(
        queryset=Crew.objects.working(),
        empty_label="Pick a crew",
        error_messages={
            "required": "Pick a crew.",
            "invalid_choice": "That crew does not work here any more.",
        },
    )
    on = DayField(
        label="First day",
        error_messages={"required": DAY_WORDS, "invalid": DAY_WORDS},
    )
    half = forms.ChoiceField(
        label="Start",
        choices=HALVES,
        initial="am",
        error_messages={"invalid_choice": "Start in the morning or the afternoon."},
    )
    as_if_on = DayField(required=False, widget=HIDDEN_DAY)
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)


class AsIfForm(forms.Form):
    """A day to plan as if the trades nobody knows about were out by then."""

    as_if_on = DayField(
        label="Plan as if they are out on",
        error_messages={"required": DAY_WORDS, "invalid": DAY_WORDS},
    )


class DiaryForm(forms.Form):
    """Which weeks of the diary to show."""

    on = DayField(
        label="The week of",
        required=False,
        error_messages={"invalid": DAY_WORDS},
    )
    weeks = forms.TypedChoiceField(
        choices=[(str(n), f"{n} weeks") for n in (2, 3, 4, 6)],
        coerce=int,
        empty_value=None,
        required=False,
        error_messages={"invalid_choice": "Show 2, 3, 4 or 6 weeks."},
    )


class CallOffForm(forms.Form):
    version = forms.IntegerField()
