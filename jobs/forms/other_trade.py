from django import forms

from jobs.forms.contact import LineField, PhoneField
from jobs.forms.customer import NOT_OURS
from jobs.forms.visit import DayField
from jobs.models import OtherTrade


class OtherTradeForm(forms.Form):
    trade = LineField(
        ask="Give the trade.",
        max_length=60,
        help_text="Electrician, plumber, joiner, decorator, tiler.",
    )
    side = forms.ChoiceField(
        label="They work",
        choices=OtherTrade.Side.choices,
        initial=OtherTrade.Side.BEFORE,
        widget=forms.RadioSelect,
    )
    sure = forms.ChoiceField(
        label="Their day is",
        choices=OtherTrade.Sure.choices,
        initial=OtherTrade.Sure.UNKNOWN,
        widget=forms.RadioSelect,
    )
    ready_on = DayField(
        label="The day",
        required=False,
        help_text="Before us: the day they are done. After us: the day they start.",
    )
    follows = forms.ChoiceField(
        label="What of theirs follows our plaster",
        choices=OtherTrade.Follows.choices,
        required=False,
    )
    who = LineField(
        label="Name", max_length=80, required=False, widget=forms.TextInput(NOT_OURS)
    )
    phone = PhoneField(
        max_length=40,
        required=False,
        widget=forms.TextInput(attrs={"type": "tel", **NOT_OURS}),
    )
