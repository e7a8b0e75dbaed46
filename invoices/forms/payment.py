import re
from decimal import Decimal
from uuid import uuid4

from django import forms
from django.db.models import QuerySet

from firm.forms.day import DayField
from invoices.models import Bill, Payment

NOT_MONEY = "Give the amount in pounds and pence, such as 1250.00."


class PaymentForm(forms.Form):
    """Money that came in. The hidden key makes a second press the same payment."""

    form_key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    amount_gbp = forms.CharField(
        label="How much came in (£)",
        max_length=20,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    received_on = DayField(label="On which day")
    method = forms.ChoiceField(label="How", choices=Payment.Method.choices)
    first_bill = forms.ModelChoiceField(
        Bill.objects.none(),
        label="For which bill",
        required=False,
        empty_label="The oldest first",
    )
    reference = forms.CharField(label="Reference", max_length=80, required=False)

    def __init__(self, *args: object, bills: QuerySet[Bill], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # as Django's own
        self.fields["first_bill"].queryset = bills  # type: ignore[attr-defined]  # stubs

    def clean_amount_gbp(self) -> Decimal:
        """Read pounds as people write them; no other script, no exponents."""
        typed = re.sub(r"[£,\s]", "", self.cleaned_data["amount_gbp"])
        if not re.fullmatch(r"[0-9]{1,7}(\.[0-9]{1,2})?", typed):
            raise forms.ValidationError(NOT_MONEY)
        return Decimal(typed)


class TakeBackForm(forms.Form):
    because = forms.CharField(label="Why", max_length=200)
