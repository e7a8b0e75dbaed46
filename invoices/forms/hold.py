from django import forms

from firm.forms.day import DayField
from invoices.models import BillHold


class HoldForm(forms.Form):
    kind = forms.ChoiceField(label="Why", choices=BillHold.Kind.choices)
    until_on = DayField(
        label="Until",
        required=False,
        help_text="The day they promised, or the day from which to chase again.",
    )
    words = forms.CharField(label="In a few words", max_length=200)
