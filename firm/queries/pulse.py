from datetime import datetime, timedelta

from firm.models import Pulse

SILENT_AFTER = timedelta(minutes=2)


def worker_silent_for(now: datetime) -> timedelta | None:
    """Return how long ago a worker last finished something, or None if never."""
    last = Pulse.objects.order_by("-beaten_at").values_list("beaten_at", flat=True)
    beaten_at = last.first()
    return None if beaten_at is None else max(now - beaten_at, timedelta(0))
