from django import forms

from firm.engine.trade.materials import PRODUCTS
from firm.forms.figure import FigureField, WholeField

ITEMS = [(code, f"{p.name}, {p.pack_name}") for code, p in PRODUCTS.items()]


class MerchantForm(forms.Form):
    name = forms.CharField(max_length=80)
    email = forms.EmailField(label="Email for orders")
    phone = forms.CharField(max_length=20, required=False)
    lead_working_days = WholeField(
        label="Working days from order to drop", min_value=0, max_value=60, initial=2
    )


class PriceForm(forms.Form):
    item_code = forms.ChoiceField(label="What", choices=ITEMS)
    price_gbp = FigureField(
        label="Price of a pack, without VAT (£)",
        min_value=0,
        max_digits=8,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
