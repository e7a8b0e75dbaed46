from typing import Any, ClassVar

from django import forms

from firm.engine.refusal import Refused
from firm.forms.figure import WholeField
from quotes.models import Look

A_YEAR = "Give the year in four digits, such as 1935."


class AnswerField(forms.ChoiceField):
    """A choice in which the empty one is an answer too, such as “not tested”."""

    def validate(self, value: Any) -> None:
        if value not in self.empty_values:
            super().validate(value)


class SheetForm(forms.Form):
    """A form about a look, which remembers the version it was opened at."""

    # An empty answer is an answer here, so no browser may mark it as missing.
    use_required_attribute = False
    version = forms.IntegerField(widget=forms.HiddenInput)

    # Where a form's word for a figure is not the engine's.
    named_otherwise: ClassVar[dict[str, str]] = {}

    def move_to(self, version: int) -> None:
        """Let the next press save over what somebody else has saved meanwhile."""
        typed = {name: self.data[name] for name in self.data}
        self.data = typed | {"version": str(version)}

    def refuse(self, refusal: Refused) -> None:
        """Put a refusal beside the figure it names, or above all of them."""
        column = refusal.field.rpartition(".")[2].removesuffix("_mm")
        name = self.named_otherwise.get(column, column)
        is_seen = name in self.fields and not self[name].is_hidden
        self.add_error(name if is_seen else None, refusal.text)


class LookForm(SheetForm):
    building_year = WholeField(
        label="Year of the building",
        required=False,
        min_value=1000,
        max_value=2100,
        help_text=(
            "A guess will do, such as 1935. Before 2000 there may be asbestos in old "
            "coatings and boards, before about 1970 lead in old paint."
        ),
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages=dict.fromkeys(("invalid", "min_value", "max_value"), A_YEAR),
    )
    is_listed = forms.BooleanField(
        label="Listed, or in a conservation area", required=False
    )
    basis = forms.ChoiceField(
        label="Count the area as", choices=Look.Basis, initial=Look.Basis.FIRM
    )
    sample = forms.ChoiceField(
        label="Textured coating or old board",
        required=False,
        choices=Look.Sample,
        initial=Look.Sample.NONE,
        help_text="Until a competent laboratory has said otherwise it counts as"
        " asbestos, and nothing on it can be quoted.",
    )
    sample_report = forms.CharField(
        label="Laboratory and number of the report", max_length=80, required=False
    )
    note = forms.CharField(
        label="Note",
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What you would tell somebody who has not seen it.",
    )

    def clean_sample(self) -> str:
        """Nothing said is nothing sampled."""
        return self.cleaned_data["sample"] or Look.Sample.NONE

    def facts(self) -> dict[str, Any]:
        return {
            name: value
            for name, value in self.cleaned_data.items()
            if name != "version"
        }


class PressForm(SheetForm):
    """A button and nothing to type: copy, remove, finish."""
