from collections.abc import Iterable
from typing import Any, ClassVar

from django import forms

from quotes.forms.length import LengthField
from quotes.forms.look import AnswerField, SheetForm
from quotes.models import Opening, Wall

CEILING = "ceiling"
STAND_ON_THE_FLOOR = {Opening.Kind.DOOR, Opening.Kind.FIRE}
IN_A_CEILING_ONLY = {Opening.Kind.ROOF_LIGHT}


class OpeningForm(SheetForm):
    kind = forms.ChoiceField(label="What is it", choices=Opening.Kind)
    on = forms.ChoiceField(label="Where")
    width = LengthField(label="Width", least_bare_mm=20)
    height = LengthField(label="Height", least_bare_mm=20)
    left = LengthField(
        label="From the left end",
        required=False,
        may_be_nought=True,
        help_text="Seen from inside.",
    )
    sill = LengthField(
        label="Above the floor",
        required=False,
        may_be_nought=True,
        help_text="A door stands on the floor.",
    )
    edge = AnswerField(
        label="Does it touch the edge of the wall or ceiling?",
        choices=[
            ("", "As usual (a door and a fire do)"),
            ("yes", "Yes: comes off whatever its size"),
            ("no", "No: plaster all round"),
        ],
    )
    reveals = AnswerField(label="Reveals we plaster", choices=Opening.Reveals)
    reveal_depth = LengthField(
        label="Depth of the reveals", required=False, least_bare_mm=10
    )

    named_otherwise: ClassVar[dict[str, str]] = {"depth": "reveal_depth", "wall": "on"}

    def __init__(
        self, *args: Any, walls: Iterable[Wall], has_ceiling: bool, **options: Any
    ) -> None:
        super().__init__(*args, **options)
        places = [(str(wall.pk), f"Wall {wall.letter}") for wall in walls if wall.is_in]
        if has_ceiling:
            places.append((CEILING, "Ceiling"))
        self.fields["on"] = forms.ChoiceField(label="Where", choices=places)

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        self._check_place(cleaned)
        self._check_edge(cleaned)
        self._check_reveals(cleaned)
        return cleaned

    def _check_place(self, cleaned: dict[str, Any]) -> None:
        on, kind = cleaned.get("on"), cleaned.get("kind")
        if on == CEILING and kind in STAND_ON_THE_FLOOR:
            self.add_error("on", "A door or a fire is in a wall. Pick the wall.")
        if on and on != CEILING and kind in IN_A_CEILING_ONLY:
            self.add_error("on", "A roof light is in the ceiling. Pick the ceiling.")

    def _check_edge(self, cleaned: dict[str, Any]) -> None:
        stands = cleaned.get("kind") in STAND_ON_THE_FLOOR
        if stands and cleaned.get("edge") == "no" and not cleaned.get("sill"):
            self.add_error(
                "sill",
                "It touches the floor unless it stands above it. "
                "Give how far above the floor it is.",
            )

    def _check_reveals(self, cleaned: dict[str, Any]) -> None:
        if "reveals" not in cleaned or "reveal_depth" not in cleaned:
            return
        reveals, depth_mm = cleaned["reveals"], cleaned["reveal_depth"]
        if reveals and not depth_mm:
            self.add_error(
                "reveal_depth", "Give the depth of the reveals, such as 150."
            )
        if depth_mm and not reveals:
            self.add_error(
                "reveals", "Say which reveals are plastered, or give no depth."
            )

    def facts(self) -> dict[str, Any]:
        cleaned = self.cleaned_data
        return {
            "wall_id": None if cleaned["on"] == CEILING else int(cleaned["on"]),
            "kind": cleaned["kind"],
            "width_mm": cleaned["width"],
            "height_mm": cleaned["height"],
            "left_mm": cleaned["left"],
            "sill_mm": cleaned["sill"],
            "touches_edge": self._touches_edge(),
            "reveals": cleaned["reveals"],
            "reveal_depth_mm": cleaned["reveal_depth"] or 0,
        }

    def _touches_edge(self) -> bool:
        cleaned = self.cleaned_data
        if cleaned["edge"]:
            return cleaned["edge"] == "yes"
        return cleaned["kind"] in STAND_ON_THE_FLOOR and not cleaned["sill"]


def typed_opening(opening: Opening) -> dict[str, Any]:
    """Return a saved opening as it would be typed."""
    return {
        "kind": opening.kind,
        "on": str(opening.wall_id) if opening.wall_id else CEILING,
        "width": opening.width_mm,
        "height": opening.height_mm,
        "left": opening.left_mm,
        "sill": opening.sill_mm,
        "edge": "yes" if opening.touches_edge else "",
        "reveals": opening.reveals,
        "reveal_depth": opening.reveal_depth_mm or None,
    }
