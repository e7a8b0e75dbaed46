"""A room as it is entered: a rectangle by its sizes, or a walk wall by wall."""

from typing import Any, cast

from django import forms
from django.http import QueryDict

from quotes.forms.length import LengthField
from quotes.forms.look import AnswerField
from quotes.forms.wall import STATE, StateForm
from quotes.models import Room, Suction, Wall
from quotes.queries.backgrounds import background_choices

LEAST_BARE_MM = 100
ROWS_TO_BEGIN_WITH = 8
MOST_WALLS = 60
LEAST_WALLS = 3
RIGHT = 90
TURNS = [
    (90, "Right"),
    (-90, "Left, outside corner"),
    (45, "Right 45°"),
    (-45, "Left 45°"),
    (135, "Right 135°"),
    (-135, "Left 135°"),
    (0, "Straight on"),
]


class RoomForm(StateForm):
    """Name, sizes and ceiling; for a new room also what all its walls are made of."""

    name = forms.CharField(label="Room", max_length=60)
    length = LengthField(label="Length", least_bare_mm=LEAST_BARE_MM)
    width = LengthField(label="Width", least_bare_mm=LEAST_BARE_MM)
    height = LengthField(label="Height", least_bare_mm=LEAST_BARE_MM)
    has_ceiling = forms.BooleanField(
        label="The ceiling is in the work", required=False, initial=True
    )
    ceiling_background = AnswerField(
        label="What is on the ceiling now", choices=background_choices
    )
    ceiling_suction = AnswerField(label="Suction of the ceiling", choices=Suction)
    chase = LengthField(
        label="Chases to fill, length in all",
        required=False,
        least_bare_mm=20,
        may_be_nought=True,
        help_text="Reckoned as 50 mm wide and 25 mm deep.",
    )

    def __init__(self, *args: Any, shape: str, is_new: bool, **options: Any) -> None:
        super().__init__(*args, **options)
        left_out = list(STATE) if not is_new else []
        if shape == Room.Shape.WALKED:
            left_out += ["length", "width"]
        for name in left_out:
            del self.fields[name]

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if cleaned.get("has_ceiling") and cleaned.get("ceiling_background") == "":
            self.add_error("ceiling_background", "Say what is on the ceiling now.")
        return cleaned


class SideForm(forms.Form):
    """One wall of the walk and the turn at its far end."""

    wall = forms.IntegerField(required=False, widget=forms.HiddenInput)
    length = LengthField(required=False, least_bare_mm=LEAST_BARE_MM)
    turn = forms.TypedChoiceField(
        label="Then turn", choices=TURNS, coerce=int, initial=RIGHT
    )


class BaseWalk(forms.BaseFormSet):
    def get_form_kwargs(self, index: int | None) -> dict[str, Any]:
        # A row left as it was is a wall all the same, so every row is read.
        return super().get_form_kwargs(index) | {"empty_permitted": False}

    def add_fields(self, form: forms.Form, index: int | None) -> None:
        super().add_fields(form, index)
        form.fields["length"].label = f"Wall {Wall(position=index or 0).letter}"

    def walked(self) -> list[dict[str, Any]]:
        """Return the rows that hold a length; an empty row is no wall."""
        rows = (form.cleaned_data for form in self.forms)
        return [row for row in rows if row.get("length")]

    def clean(self) -> None:
        if not any(self.errors) and len(self.walked()) < LEAST_WALLS:
            raise forms.ValidationError("Walk round at least three walls.")


Walk = forms.formset_factory(
    SideForm, formset=BaseWalk, extra=0, max_num=MOST_WALLS, absolute_max=MOST_WALLS
)


def walk_of(typed: QueryDict | None, *, initial: list[dict[str, Any]]) -> BaseWalk:
    return cast("BaseWalk", Walk(typed, prefix="walls", initial=initial))


class RoomSheet:
    """The form of a room and, for a walk, the rows of its walls."""

    def __init__(
        self,
        typed: QueryDict | None,
        *,
        shape: str,
        version: int,
        room: Room | None = None,
    ) -> None:
        self.shape = shape
        self.is_new = room is None
        self.form = RoomForm(
            typed,
            shape=shape,
            is_new=self.is_new,
            initial=_initial(room) | {"version": version},
        )
        self.is_walk = shape == Room.Shape.WALKED
        self.walk = walk_of(typed if self.is_walk else None, initial=_sides(room))
        self.is_asking_for_a_row = typed is not None and "insert" in typed
        if typed is not None and self.is_asking_for_a_row:
            self._show_with_a_row_more(typed)

    def is_valid(self) -> bool:
        if self.is_asking_for_a_row:
            return False
        walk_is_valid = not self.is_walk or self.walk.is_valid()
        return self.form.is_valid() and walk_is_valid

    @property
    def is_wrong(self) -> bool:
        return self.form.is_bound and bool(
            self.form.errors or (self.is_walk and self.walk.total_error_count())
        )

    def facts(self) -> dict[str, Any]:
        """Return what a room is saved from, its walls and their state apart."""
        cleaned = self.form.cleaned_data
        return {
            "name": cleaned["name"],
            "shape": self.shape,
            "height_mm": cleaned["height"],
            "has_ceiling": cleaned["has_ceiling"],
            "ceiling_background": cleaned["ceiling_background"],
            "ceiling_suction": cleaned["ceiling_suction"],
            "chase_mm": cleaned["chase"] or 0,
        }

    def sides(self, walls: list[Wall]) -> list[dict[str, Any]]:
        """Return length, turn and standing wall of each side, in order."""
        if self.is_walk:
            return [
                {
                    "length_mm": row["length"],
                    "turn_deg": row["turn"],
                    "wall_id": row["wall"],
                }
                for row in self.walk.walked()
            ]
        cleaned = self.form.cleaned_data
        lengths_mm = (cleaned["length"], cleaned["width"]) * 2
        standing: list[int | None] = [wall.pk for wall in walls]
        return [
            {"length_mm": length_mm, "wall_id": pk}
            for length_mm, pk in zip(lengths_mm, standing or [None] * 4, strict=True)
        ]

    def _show_with_a_row_more(self, typed: QueryDict) -> None:
        rows = _typed_rows(typed)
        after = typed.get("insert", "")
        rows.insert(int(after) if after.isdecimal() else len(rows), {})
        shown: dict[str, Any] = {name: typed.get(name) for name in self.form.fields}
        shown["has_ceiling"] = "has_ceiling" in typed
        self.form = RoomForm(shape=self.shape, is_new=self.is_new, initial=shown)
        self.walk = walk_of(None, initial=rows)


def _typed_rows(typed: QueryDict) -> list[dict[str, Any]]:
    told = typed.get("walls-TOTAL_FORMS", "")
    count = min(int(told), MOST_WALLS) if told.isdecimal() else 0
    names = ("wall", "length", "turn")
    return [
        {name: typed.get(f"walls-{place}-{name}", "") for name in names}
        for place in range(count)
    ]


def _initial(room: Room | None) -> dict[str, Any]:
    if room is None:
        return {}
    walls = list(room.walls.all())
    return {
        "name": room.name,
        "height": room.height_mm,
        "length": walls[0].length_mm if walls else None,
        "width": walls[1].length_mm if len(walls) > 1 else None,
        "has_ceiling": room.has_ceiling,
        "ceiling_background": room.ceiling_background,
        "ceiling_suction": room.ceiling_suction,
        "chase": room.chase_mm or None,
    }


def _sides(room: Room | None) -> list[dict[str, Any]]:
    if room is None:
        return [{} for _ in range(ROWS_TO_BEGIN_WITH)]
    return [
        {"wall": wall.pk, "length": wall.length_mm, "turn": wall.turn_deg}
        for wall in room.walls.all()
    ]
