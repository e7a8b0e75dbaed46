from datetime import datetime

from firm.models import HistoryLine, Person


def write(
    *,
    about: tuple[str, int],
    event: str,
    words: str,
    now: datetime,
    by: Person | None,
    by_words: str = "",
) -> None:
    """Leave one line in the history of a job, a bill, a person or the firm."""
    kind, pk = about
    HistoryLine.objects.create(
        at=now,
        by=by,
        by_words=by_words,
        about_kind=kind,
        about_id=pk,
        event=event,
        words=words,
    )
