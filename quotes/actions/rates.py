from datetime import datetime
from decimal import Decimal

from django.db import transaction

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.models import Person
from quotes.models import Rates


@transaction.atomic
def set_rates(*, by: Person, now: datetime, **rates: Decimal) -> None:
    """Write down what the firm charges; quotes that are out keep their sums."""
    if not may.run_the_firm(by):
        raise Refused("Only the owner can change what the firm charges.")
    Rates.objects.update_or_create(pk=1, defaults=rates)
    words = "The rates were changed: " + ", ".join(
        f"{name.removesuffix('_gbp').replace('_', ' ')} {value}"
        for name, value in rates.items()
    )
    history.write(about=("firm", 1), event="rates-set", words=words, now=now, by=by)
