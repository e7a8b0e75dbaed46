from django import forms

from firm.models import Crew, Person

ROLES = [choice for choice in Person.Role.choices if choice[0] != Person.Role.CLOCK]


class PersonForm(forms.Form):
    name = forms.CharField(max_length=80)
    phone = forms.CharField(max_length=20, required=False)
    role = forms.ChoiceField(choices=ROLES)
    crew = forms.ModelChoiceField(
        Crew.objects.working(), required=False, empty_label="No crew"
    )


class NewPersonForm(PersonForm):
    email = forms.EmailField(
        label="Email address", help_text="They sign in with this.", max_length=254
    )
    field_order = ("name", "email", "phone", "role", "crew")
