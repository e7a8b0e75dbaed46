from django import forms

from jobs.forms.contact import LineField, LinesField, PhoneField, PostcodeField
from jobs.models import Customer

# What the office types is about somebody else: the browser must not offer its own.
NOT_OURS = {"autocomplete": "off"}


class WhoForm(forms.Form):
    """Who somebody is, and how to reach them."""

    name = LineField(
        ask="Give the customer's name.",
        max_length=120,
        widget=forms.TextInput(attrs=NOT_OURS),
    )
    phone = PhoneField(
        max_length=40,
        required=False,
        help_text="This or an email.",
        widget=forms.TextInput(attrs={"type": "tel", **NOT_OURS}),
    )
    email = forms.EmailField(
        label="Email",
        max_length=254,
        required=False,
        error_messages={"invalid": "Give an email address like name@example.com."},
        widget=forms.EmailInput(attrs=NOT_OURS),
    )
    kind = forms.ChoiceField(label="They are a", choices=Customer.Kind.choices)


class CustomerForm(WhoForm):
    address = LinesField(
        label="Address for bills",
        max_length=400,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3, **NOT_OURS}),
    )
    postcode = PostcodeField(
        max_length=20, required=False, widget=forms.TextInput(attrs=NOT_OURS)
    )
