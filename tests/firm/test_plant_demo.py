"""Where and when the demo may be planted."""

from datetime import UTC, datetime

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.test import override_settings

from firm.engine.refusal import Refused
from firm.management.demo.days import Days
from firm.management.demo.plant import plant
from firm.models import Firm
from jobs.models import BookedHalf

pytestmark = pytest.mark.django_db
# An ordinary afternoon, a Saturday, the morning after Easter, the small hours of the
# first working day of a year, and a Sunday in the night that the clocks change.
MOMENTS = [
    datetime(2026, 6, 10, 14, 0, tzinfo=UTC),
    datetime(2026, 11, 28, 11, 0, tzinfo=UTC),
    datetime(2027, 3, 30, 7, 15, tzinfo=UTC),
    datetime(2027, 1, 4, 0, 20, tzinfo=UTC),
    datetime(2026, 10, 25, 0, 30, tzinfo=UTC),
]


def test_the_known_password_is_not_planted_in_public():
    with (
        override_settings(FIRM_ADDRESS="https://office.example.com"),
        pytest.raises(CommandError, match="first_owner"),
    ):
        call_command("plant_demo")
    assert not Firm.objects.exists()


@pytest.mark.parametrize("moment", MOMENTS, ids=lambda at: f"{at:%a %-d %b %Y %H:%M}")
@pytest.mark.slow
def test_it_can_be_planted_on_any_day(moment):
    planted = plant(now=moment)
    assert sum(planted.jobs.values()) >= 50
    days = Days(moment)
    out = BookedHalf.objects.filter(on=days.on(1))
    assert out.values("crew").distinct().count() == 3
    with pytest.raises(Refused):
        plant(now=moment)
