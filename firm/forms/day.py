from datetime import date
from typing import Any

from django import forms

FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2100, 12, 31)
HOW_TO = "Give the day as day/month/year, for example 9/3/2027."


class DayField(forms.DateField):
    """A day within the centuries that a calendar can count in.

    The value goes to the browser as year-month-day: it shows no other shape.
    """

    widget = forms.DateInput({"type": "date"}, format="%Y-%m-%d")

    def __init__(self, **options: Any) -> None:
        words = {"required": HOW_TO, "invalid": HOW_TO}
        words |= options.pop("error_messages", {})
        super().__init__(error_messages=words, **options)

    def validate(self, value: date | None) -> None:
        super().validate(value)
        if value is not None and not FIRST_DAY <= value <= LAST_DAY:
            raise forms.ValidationError("Give a day between 2000 and 2100.")
