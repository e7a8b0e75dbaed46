"""A length as people type it: 3600, 3.6, 3.60 m, 360 cm or 8'6"."""

import re
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms

from firm.engine.lengths import LONGEST_MM, in_mm, read_length_mm
from firm.engine.refusal import Refused

MM_IN_INCH = Decimal("25.4")
LONGEST_TYPED = 20
HOW_TO = "Type 3600, 3.6 or 3.60 m."
_FEET = r"(?P<feet>\d+(?:\.\d+)?)\s*(?:ft|feet|foot|['’′])"
_INCHES = r"(?P<inches>\d+(?:\.\d+)?)(?:\s+(?P<over>\d+)/(?P<under>[1-9]\d*))?"
_INCH_MARK = r"(?:in|inch|inches|[\"”″]|'')"
IMPERIAL = re.compile(rf"(?:{_FEET})?\s*(?:{_INCHES}\s*{_INCH_MARK})?", re.IGNORECASE)
FEET_THEN_BARE_INCHES = re.compile(rf"{_FEET}\s*{_INCHES}", re.IGNORECASE)
# 3,600 is three thousand six hundred; 3,6 would be read as thirty-six.
MISPLACED_COMMA = re.compile(r",(?!\d{3}(?:\D|$))")


def read_typed_length_mm(text: str) -> int:
    """Read a length in metric or in feet and inches, to the nearest millimetre.

    >>> read_typed_length_mm("3.60 m"), read_typed_length_mm("8'6\\"")
    (3600, 2591)
    """
    found = FEET_THEN_BARE_INCHES.fullmatch(text) or IMPERIAL.fullmatch(text)
    if text and found:
        parts = {name: Decimal(part or 0) for name, part in found.groupdict().items()}
        fraction = parts["over"] / parts["under"] if parts["under"] else Decimal(0)
        inches = parts["feet"] * 12 + parts["inches"] + fraction
        return int((inches * MM_IN_INCH).quantize(Decimal(1), rounding=ROUND_HALF_UP))
    if MISPLACED_COMMA.search(text):
        raise Refused(f"“{text}” has a comma where a point belongs. {HOW_TO}")
    return read_length_mm(text)


def _is_typed_here(text: str) -> bool:
    """Tell figures of this keyboard from those of other scripts."""
    return all(letter.isascii() for letter in text if letter.isdigit())


class LengthField(forms.CharField):
    """Whole millimetres in, whole millimetres out, whatever unit was typed.

    A bare figure under `least_bare_mm` is asked back: 4 means four metres to whoever
    types it, and four millimetres to a ruler.
    """

    def __init__(
        self, *, least_bare_mm: int = 0, may_be_nought: bool = False, **options: Any
    ) -> None:
        options.setdefault("max_length", LONGEST_TYPED)
        super().__init__(**options)
        self.least_bare_mm = least_bare_mm
        self.may_be_nought = may_be_nought

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        attrs = super().widget_attrs(widget)
        # A keypad with a point on it: "numeric" has none on some phones.
        return {**attrs, "inputmode": "decimal", "autocomplete": "off"}

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if text and (len(text) > LONGEST_TYPED or not _is_typed_here(text)):
            raise forms.ValidationError(f"That is no length. {HOW_TO}")
        return self._read(text) if text else text

    def clean(self, value: Any) -> int | None:
        length_mm = super().clean(value)
        return None if length_mm in self.empty_values else length_mm

    def run_validators(self, value: Any) -> None:
        """Say nothing here: `to_python` has said what is wrong with a length."""

    def _read(self, text: str) -> int:
        try:
            length_mm = read_typed_length_mm(text)
        except Refused as refusal:
            raise forms.ValidationError(refusal.text) from refusal
        if text.isdigit() and 0 < length_mm < self.least_bare_mm:
            raise forms.ValidationError(
                f"{text} reads as {in_mm(length_mm)}. Type {text} m or {text}000 if it "
                f"is metres, {text} mm if it is millimetres."
            )
        if length_mm == 0 and not self.may_be_nought:
            raise forms.ValidationError("Give a length of more than nothing.")
        if length_mm > LONGEST_MM:
            raise forms.ValidationError(
                f"{in_mm(length_mm)} is over 100 m. Check the figure on the sheet."
            )
        return length_mm
