"""Somebody else saved first: keep the typing, show what is saved, let it be pressed."""

from typing import Any

from firm.engine.refusal import Refused
from quotes.actions.look import OVERTAKEN_FIELD
from quotes.forms.look import SheetForm
from quotes.models import Look


def came_second(
    refusal: Refused, form: SheetForm, *, look: Look, saved: tuple[str, ...]
) -> dict[str, Any]:
    """Return what the page shows beside the typing, nothing for other refusals."""
    if refusal.field != OVERTAKEN_FIELD:
        return {}
    form.move_to(look.version)
    return {"saved": saved, "look": look}
