"""Fields for what people type about people: lines, numbers, postcodes."""

from collections.abc import Callable
from typing import Any

from django import forms
from django.core.validators import MaxLengthValidator

from firm.engine.refusal import Refused
from firm.templatetags import figures
from jobs.engine import contact

TOO_LONG = "Keep this to %(limit_value)d letters. It has %(show_value)d."


class LineField(forms.CharField):
    """One line of text, in a shape the firm can keep; a sentence when it is none."""

    shape: Callable[[str], str] = staticmethod(contact.line)

    def __init__(self, *, ask: str = "", **options: Any) -> None:
        super().__init__(error_messages={"required": ask} if ask else None, **options)
        for limit in self.validators:
            if isinstance(limit, MaxLengthValidator):
                limit.message = TOO_LONG

    def to_python(self, value: Any) -> str:
        typed = super().to_python(value) or ""
        try:
            return self.shape(typed) if typed else ""
        except Refused as refusal:
            raise forms.ValidationError(str(refusal)) from None


class LinesField(LineField):
    shape = staticmethod(contact.lines)
    widget = forms.Textarea


class PhoneField(LineField):
    shape = staticmethod(contact.phone_number)

    def prepare_value(self, value: Any) -> Any:
        """Show a kept number as it is dialled here, typing as it was typed."""
        is_kept = isinstance(value, str) and value.startswith("+44")
        return figures.phone(value) if is_kept else value


class PostcodeField(LineField):
    shape = staticmethod(contact.postcode)
