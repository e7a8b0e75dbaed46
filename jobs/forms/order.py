from collections.abc import Iterable
from typing import Any

from django import forms

from firm.forms.day import DayField
from firm.forms.figure import WholeField
from jobs.models import MaterialNeed, Merchant, OrderLine

DAY_WORDS = "Give the day, for example 9/3/2027."
PACKS_WORDS = "Give whole packs, for example 3."
MOST_PACKS = 999


def packs_field(label: str, *, least: int) -> forms.IntegerField:
    return WholeField(
        label=label,
        required=False,
        min_value=least,
        max_value=MOST_PACKS,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
        error_messages={
            "invalid": PACKS_WORDS,
            "min_value": PACKS_WORDS,
            "max_value": f"Give {MOST_PACKS} packs at the most.",
        },
    )


class OrderForm(forms.Form):
    """One merchant, one day, and so many packs of each thing not ordered yet."""

    merchant = forms.ModelChoiceField(
        queryset=Merchant.objects.filter(is_active=True),
        empty_label="Pick a merchant",
        error_messages={
            "required": "Pick a merchant.",
            "invalid_choice": "That merchant is not in the book any more.",
        },
    )
    wanted_on = DayField(
        label="Drop on",
        error_messages={"required": DAY_WORDS, "invalid": DAY_WORDS},
    )

    def __init__(
        self, *args: Any, needs: Iterable[MaterialNeed], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.need_ids: list[int] = []
        for need in needs:
            self.need_ids.append(need.pk)
            field = packs_field(f"{need.item}, {need.pack}", least=0)
            field.initial = need.packs
            field.help_text = f"{need.packs} needed. Empty or 0 leaves it out."
            self.fields[f"packs_{need.pk}"] = field

    @property
    def need_fields(self) -> list[forms.BoundField]:
        return [self[f"packs_{pk}"] for pk in self.need_ids]

    @property
    def packs(self) -> dict[int, int]:
        """Return the packs asked for by the id of the need."""
        asked = {pk: self.cleaned_data.get(f"packs_{pk}") for pk in self.need_ids}
        return {pk: packs for pk, packs in asked.items() if packs}


class ArrivedForm(forms.Form):
    """What was dropped: packs and trouble, line by line."""

    def __init__(self, *args: Any, lines: Iterable[OrderLine], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.line_ids: list[int] = []
        for line in lines:
            self.line_ids.append(line.pk)
            field = packs_field(f"{line.need.item}, {line.need.pack}", least=0)
            field.required = True
            field.initial = line.packs
            field.error_messages["required"] = "Say how many came, 0 if none did."
            field.help_text = f"{line.packs} ordered."
            self.fields[f"arrived_{line.pk}"] = field
            self.fields[f"trouble_{line.pk}"] = forms.CharField(
                label=f"Trouble with {line.need.item.lower()}",
                required=False,
                max_length=120,
                widget=forms.TextInput(attrs={"placeholder": "one bag burst"}),
            )

    @property
    def rows(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        return [(self[f"arrived_{pk}"], self[f"trouble_{pk}"]) for pk in self.line_ids]

    @property
    def lines(self) -> dict[int, tuple[int, str]]:
        """Return packs and trouble by the id of the line."""
        typed = self.cleaned_data
        return {
            pk: (typed[f"arrived_{pk}"], typed[f"trouble_{pk}"]) for pk in self.line_ids
        }
