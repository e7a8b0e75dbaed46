from django.db import IntegrityError, transaction

from firm.models import NumberSeries


def take_number(series: str) -> int:
    """Take the next number of a series, inside the caller's transaction.

    The row is locked until that transaction ends, so a number given up by a
    rollback is given out again and no two callers ever share one.
    """
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError("A number is taken inside the transaction that uses it.")
    row = _locked(series)
    number = row.next_number
    row.next_number = number + 1
    row.save(update_fields=["next_number"])
    return number


def _locked(series: str) -> NumberSeries:
    rows = NumberSeries.objects.select_for_update()
    found = rows.filter(name=series).first()
    if found:
        return found
    try:
        with transaction.atomic():
            return NumberSeries.objects.create(name=series)
    except IntegrityError:
        return rows.get(name=series)
