"""A crew's sheet for one day as a letter: the page in words, never a price."""

from collections.abc import Iterable
from datetime import date

from firm.templatetags.figures import clock, m2, phone
from jobs.engine.slots import STARTS_AT, Half
from jobs.models import OtherTrade, WorkItem
from jobs.queries.tomorrow import Sheet


def subject_of(sheet: Sheet, day: date) -> str:
    return f"{day:%a %-d %b}: {sheet.what}, {sheet.postcode}"


def words_of(sheet: Sheet, day: date, start: Half) -> str:
    """Return the whole sheet as plain text."""
    parts = [
        f"Job {sheet.number}, {day:%A} {day.day} {day:%B}: {sheet.what}",
        f"Start at {clock(STARTS_AT[start.half])}.",
        "\n".join(_place(sheet)),
        *(
            f"CAUTION: {caution.words} ({caution.authority})"
            for caution in sheet.cautions
        ),
        *(_room(room.name, room.items) for room in sheet.rooms),
        _list("On site and to bring", (f"{s.what}: {s.where}" for s in sheet.stuff)),
        _list("Other trades", (_trade(trade) for trade in sheet.trades)),
        _list("Notes", (f"{n.by.first_name}: {n.words}" for n in sheet.notes)),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _place(sheet: Sheet) -> Iterable[str]:
    yield f"{sheet.address}\n{sheet.postcode}"
    if sheet.way_in:
        yield f"Way in: {sheet.way_in}"
    if sheet.parking:
        yield f"Parking: {sheet.parking}"
    reach = f", {phone(sheet.phone)}" if sheet.phone else ""
    yield f"Customer: {sheet.customer}{reach}"


def _room(name: str, items: Iterable[WorkItem]) -> str:
    lines = [name]
    for item in items:
        lines.append(f"- {item.what}, {m2(item.area_m2)}")
        lines += [f"    {layer}" for layer in item.layers.splitlines()]
    return "\n".join(lines)


def _list(title: str, lines: Iterable[str]) -> str:
    inside = [f"- {line}" for line in lines]
    return "\n".join([title, *inside]) if inside else ""


def _trade(trade: OtherTrade) -> str:
    side = "before us" if trade.side == OtherTrade.Side.BEFORE else "after us"
    when = f"{trade.ready_on:%a %-d %b}" if trade.ready_on else "day not known"
    return f"{trade.trade}, {side}: {when} ({trade.get_sure_display().lower()})"
