from decimal import Decimal
from typing import Any

from django import forms

from firm.forms.figure import FigureField, WholeField
from quotes.forms.look import AnswerField, SheetForm
from quotes.models import Suction
from quotes.queries.backgrounds import background_choices

STATE = ("background", "suction", "hollow_pct", "out_of_true_mm", "crack_mm")


def _counted(
    label: str, *, most: int, wrong: str, help_text: str
) -> forms.IntegerField:
    return WholeField(
        label=label,
        required=False,
        min_value=0,
        max_value=most,
        help_text=help_text,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages=dict.fromkeys(("invalid", "min_value", "max_value"), wrong),
    )


class StateForm(SheetForm):
    """What a wall is made of and how it was found."""

    background = forms.ChoiceField(
        label="What is on the wall now", choices=background_choices
    )
    suction = AnswerField(label="Suction", choices=Suction, help_text="Brush water on.")
    hollow_pct = _counted(
        "Hollow, %",
        most=100,
        wrong="Hollow is a share of the wall in whole per cent, 0 to 100.",
        help_text="Tap it over, every 300 mm.",
    )
    out_of_true_mm = _counted(
        "Out of true, mm",
        most=200,
        wrong="Give the gap under a 2 m straightedge in whole mm, 0 to 200.",
        help_text="The gap under a 2 m straightedge.",
    )
    crack_mm = FigureField(
        label="Widest crack, mm",
        required=False,
        min_value=0,
        max_digits=4,
        decimal_places=1,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
        error_messages=dict.fromkeys(
            (
                *("invalid", "min_value", "max_digits"),
                *("max_decimal_places", "max_whole_digits"),
            ),
            "Give the widest crack in mm, to a tenth, such as 0.5.",
        ),
    )

    def clean_hollow_pct(self) -> int:
        return self.cleaned_data["hollow_pct"] or 0

    def clean_out_of_true_mm(self) -> int:
        return self.cleaned_data["out_of_true_mm"] or 0

    def clean_crack_mm(self) -> Decimal:
        return self.cleaned_data["crack_mm"] or Decimal(0)

    def state(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in STATE}


class WallForm(StateForm):
    is_in = forms.BooleanField(label="This wall is in the work", required=False)

    field_order = ("is_in", *STATE)

    def state(self) -> dict[str, Any]:
        return super().state() | {"is_in": self.cleaned_data["is_in"]}
