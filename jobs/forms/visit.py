from datetime import date, datetime, time
from typing import Any, cast

from django import forms

from firm.forms.day import DayField
from firm.templatetags.figures import clock, short_day
from jobs.engine.visit_times import VisitTime
from jobs.models import VISIT_TIMES
from jobs.queries.visit import Offer

ANOTHER_TIME = "other"
SHAPE = "%Y-%m-%d %H:%M"
TIMES = [("", "–"), *((f"{at:%H:%M}", clock(at)) for at in VISIT_TIMES)]


class OfferedTimeField(forms.ChoiceField):
    """A time picked from the offer; one taken meanwhile is for the diary to refuse."""

    def valid_value(self, value: str) -> bool:
        return super().valid_value(value) or moment_of(value) is not None


class VisitForm(forms.Form):
    """Who goes to look, and when: a time on offer, or another."""

    no_visit_words = ""
    visit_person = forms.TypedChoiceField(label="Who goes to look", coerce=int)
    visit = OfferedTimeField(
        label="Times on offer",
        widget=forms.RadioSelect,
        required=False,
    )
    visit_on = DayField(label="Another day", required=False)
    visit_at = forms.ChoiceField(label="Another time", choices=TIMES, required=False)

    def __init__(self, *args: Any, offer: Offer, **options: Any) -> None:
        super().__init__(*args, **options)
        people = [(person.pk, person.name) for person in offer.visitors]
        _choice(self, "visit_person").choices = people
        self.fields["visit_person"].initial = offer.person.pk if offer.person else None
        self.offer_times(offer)

    def offer_times(self, offer: Offer) -> None:
        """Show the times that are free now."""
        none = [("", self.no_visit_words)] if self.no_visit_words else []
        _choice(self, "visit").choices = [
            *none,
            *(
                (f"{datetime.combine(at.on, at.at):{SHAPE}}", _label(at))
                for at in offer.times
            ),
            (ANOTHER_TIME, "Another day or time, as below"),
        ]

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        picked, on = said.get("visit", ""), said.get("visit_on")
        at = said.get("visit_at", "")
        if picked == ANOTHER_TIME or (not picked and (on or at)):
            said["moment"] = self._other(on, at)
        else:
            said["moment"] = moment_of(picked)
        if said["moment"] is None and not self.no_visit_words and not self.errors:
            self.add_error("visit", "Pick one of the times, or give another.")
        return said

    def _other(self, on: date | None, at: str) -> tuple[date, time] | None:
        if not on and "visit_on" not in self.errors:
            self.add_error("visit_on", "Give the day of the visit.")
        if not at and "visit_at" not in self.errors:
            self.add_error("visit_at", "Give the time of the visit.")
        return (on, time.fromisoformat(at)) if on and at else None


def _choice(form: forms.Form, name: str) -> forms.ChoiceField:
    return cast(forms.ChoiceField, form.fields[name])


def moment_of(typed: str) -> tuple[date, time] | None:
    try:
        picked = datetime.strptime(typed, SHAPE)  # noqa: DTZ007 - a day and a UK clock time, kept apart below
    except ValueError:
        return None
    return picked.date(), picked.time()


def _label(offer: VisitTime) -> str:
    return f"{short_day(offer.on)}, {clock(offer.at)}: {offer.reason}"
