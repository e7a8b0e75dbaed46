from django import forms

from firm.forms.day import DayField
from firm.forms.figure import FigureField, WholeField
from firm.models import Crew, Firm, Payee


class FirmForm(forms.ModelForm):
    class Meta:
        model = Firm
        fields = [
            "name",
            "address",
            "postcode",
            "phone",
            "email",
            "is_vat_registered",
            "vat_number",
            "quote_valid_days",
            "payment_days",
            "void_threshold_m2",
            "drying_counts_clear_days",
        ]
        labels = {
            "name": "Name of the firm",
            "is_vat_registered": "Registered for VAT",
            "vat_number": "VAT number",
            "quote_valid_days": "A quote stands for (days)",
            "payment_days": "Bills are due in (days)",
            "void_threshold_m2": "Take openings out over (m²)",
            "drying_counts_clear_days": "Drying counts clear days: finish and start"
            " day do not count",
        }
        widgets = {"address": forms.Textarea(attrs={"rows": 3})}
        field_classes = {
            "quote_valid_days": WholeField,
            "payment_days": WholeField,
            "void_threshold_m2": FigureField,
        }


class CrewForm(forms.ModelForm):
    class Meta:
        model = Crew
        fields = ["name", "plasterers", "labourers"]
        labels = {"name": "Name of the crew"}
        field_classes = {"plasterers": WholeField, "labourers": WholeField}

    def validate_unique(self) -> None:
        """The action says it in the crew's own name."""


class TimeOffForm(forms.Form):
    crew = forms.ModelChoiceField(Crew.objects.working(), empty_label="Which crew?")
    first_on = DayField(label="First day off")
    last_on = DayField(label="Last day off")
    reason = forms.CharField(max_length=80, required=False)


class FigureForm(forms.Form):
    value = FigureField(
        label="The firm's own figure",
        max_digits=12,
        decimal_places=4,
        required=False,
        help_text="Leave it empty to follow the trade data.",
    )
    reason = forms.CharField(label="Why", max_length=120, required=False)


class PayeeForm(forms.ModelForm):
    class Meta:
        model = Payee
        fields = ["account_name", "sort_code", "account_number"]
        labels = {"account_name": "Name on the account"}
        help_texts = {"sort_code": "As 00-00-00.", "account_number": "Eight digits."}
