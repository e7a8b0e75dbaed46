"""Figures as a keyboard here types them.

Python reads 1_0 as ten, and figures of every script: nobody in the office means that.
"""

import re
from typing import Any

from django import forms

PLAIN = re.compile(r"[+-]?([0-9]{1,15}(\.[0-9]{0,15})?|\.[0-9]{1,15})", re.ASCII)


def is_plain(typed: Any) -> bool:
    return not isinstance(typed, str) or PLAIN.fullmatch(typed.strip()) is not None


class WholeField(forms.IntegerField):
    def to_python(self, value: Any) -> int | None:
        if value not in self.empty_values and not is_plain(value):
            raise forms.ValidationError(self.error_messages["invalid"], "invalid")
        return super().to_python(value)


class FigureField(forms.DecimalField):
    def to_python(self, value: Any) -> Any:
        if value not in self.empty_values and not is_plain(value):
            raise forms.ValidationError(self.error_messages["invalid"], "invalid")
        return super().to_python(value)
