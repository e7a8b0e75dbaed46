from django import forms

from firm.forms.figure import FigureField
from quotes.models import Rates


class RatesForm(forms.ModelForm):
    class Meta:
        model = Rates
        fields = [
            "plasterer_hour_gbp",
            "labourer_hour_gbp",
            "overhead_pct",
            "margin_pct",
            "minimum_charge_gbp",
        ]
        field_classes = dict.fromkeys(fields, FigureField)
        labels = {
            "plasterer_hour_gbp": "What an hour of a plasterer costs us (£)",
            "labourer_hour_gbp": "What an hour of a labourer costs us (£)",
            "overhead_pct": "Overhead on the cost (%)",
            "margin_pct": "Margin, as a share of the price (%)",
            "minimum_charge_gbp": "Smallest charge for a job, without VAT (£)",
        }
        help_texts = {
            "plasterer_hour_gbp": "Wages with employer's costs, or the day rate ÷ 8.",
            "margin_pct": "20 of the price is 25 on the cost.",
        }
