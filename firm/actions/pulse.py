from datetime import datetime

from django.db import transaction

from firm.models import Pulse

WORKER = "worker"


@transaction.atomic
def beat_pulse(*, now: datetime) -> None:
    Pulse.objects.update_or_create(name=WORKER, defaults={"beaten_at": now})
