"""Lay the diary out as a wall chart: crews down, half-days across, to scale.

Comes in: days, crews, visits, trades and time off. Goes out: places and sizes in the
drawing's own units, whole numbers all. Plaster dries at weekends, so every calendar
day has its column; days nobody works are narrow. Colours and links are the page's.
"""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from itertools import pairwise

from firm.engine.working_days import WorkingDays
from jobs.engine.slots import AFTERNOON, Half
from jobs.engine.wall_chart_values import (
    Axis,
    Box,
    Chart,
    Column,
    CrewLine,
    Mark,
    Off,
    Row,
    Tail,
    TailCell,
    Trade,
    Visit,
)

LABEL_WIDTH, AXIS_WIDTH = 128, 1072
HEAD_HEIGHT, TRADE_HEIGHT, BLOCK_HEIGHT, TAIL_HEIGHT, ROW_GAP = 48, 20, 48, 20, 12
REST_TENTHS = 4
ONE_DAY = timedelta(days=1)
WETTEST = 3
# The letters of the house are about so wide at the chart's size, bold a little more.
LETTER_TENTHS = 76
FEWEST_LETTERS = 5


def draw_chart(
    *,
    first_on: date,
    weeks: int,
    today: date,
    crews: Sequence[CrewLine],
    visits: Sequence[Visit],
    trades: Sequence[Trade],
    offs: Sequence[Off],
    days: WorkingDays,
) -> Chart:
    """Lay out so many weeks of the diary from a Monday.

    >>> chart = draw_chart(first_on=date(2027, 3, 8), weeks=2, today=date(2027, 3, 9),
    ...                    crews=[], visits=[], trades=[], offs=[],
    ...                    days=WorkingDays(frozenset()))
    >>> chart.columns[0].x, chart.columns[0].width, chart.columns[5].width
    (128, 92, 36)
    """
    axis = Axis(columns=_columns(first_on, weeks, today, days))
    rows: list[Row] = []
    y = HEAD_HEIGHT
    for crew in crews:
        row = _row(
            crew,
            y=y,
            axis=axis,
            visits=[visit for visit in visits if visit.crew_id == crew.crew_id],
            trades=[trade for trade in trades if trade.crew_id == crew.crew_id],
            offs=[off for off in offs if off.crew_id == crew.crew_id],
        )
        rows.append(row)
        y += row.height
    return Chart(
        width=axis.end,
        height=y,
        axis_x=LABEL_WIDTH,
        columns=axis.columns,
        rows=tuple(rows),
    )


def _columns(
    first_on: date, weeks: int, today: date, days: WorkingDays
) -> tuple[Column, ...]:
    dates = [first_on + n * ONE_DAY for n in range(weeks * 7)]
    rests = [not days.is_working(day) and day.weekday() >= 5 for day in dates]
    tenths = sum(REST_TENTHS if rest else 10 for rest in rests)
    width = AXIS_WIDTH * 10 // tenths
    columns, x = [], LABEL_WIDTH
    for day, rest in zip(dates, rests, strict=True):
        own_width = width * REST_TENTHS // 10 if rest else width
        columns.append(
            Column(
                on=day,
                x=x,
                width=own_width,
                is_rest=not days.is_working(day),
                is_holiday=not rest and not days.is_working(day),
                is_today=day == today,
            )
        )
        x += own_width
    return tuple(columns)


def _row(
    crew: CrewLine,
    *,
    y: int,
    axis: Axis,
    visits: Sequence[Visit],
    trades: Sequence[Trade],
    offs: Sequence[Off],
) -> Row:
    places = [(_trade_x(trade, axis), trade) for trade in trades]
    shown = sorted(
        ((x, trade) for x, trade in places if x is not None), key=lambda pair: pair[0]
    )
    lanes = _lanes([(x, x + _text_width(_trade_words(t)) + 20) for x, t in shown])
    block_y = y + ROW_GAP // 2 + TRADE_HEIGHT * (max(lanes, default=-1) + 1)
    marks = [
        _mark(x, trade, y + ROW_GAP // 2 + lane * TRADE_HEIGHT, block_y)
        for (x, trade), lane in zip(shown, lanes, strict=True)
    ]
    tails = _tails(visits, axis, block_y)
    under = max(
        (tail.y + TAIL_HEIGHT for tail in tails), default=block_y + BLOCK_HEIGHT
    )
    return Row(
        crew_id=crew.crew_id,
        name=crew.name,
        load_words=crew.load_words,
        y=y,
        height=under + ROW_GAP - y,
        block_y=block_y,
        blocks=tuple(_blocks(visits, axis, block_y)),
        offs=tuple(_off_boxes(offs, axis, block_y)),
        tails=tuple(tails),
        marks=tuple(marks),
    )


def _blocks(visits: Iterable[Visit], axis: Axis, y: int) -> Iterable[Box]:
    for visit in visits:
        x, end = axis.start_of(visit.first), axis.end_of(visit.last)
        if end <= x:
            continue
        yield Box(
            x=x + 1,
            y=y,
            width=end - x - 2,
            height=BLOCK_HEIGHT,
            words=fit(visit.title, end - x - 14, short=visit.number),
            more=fit(f"{visit.number} {visit.what}", end - x - 14),
            label=visit.label,
            job_id=visit.job_id,
            is_done=visit.is_done,
        )


def _off_boxes(offs: Iterable[Off], axis: Axis, y: int) -> Iterable[Box]:
    for off in offs:
        x = axis.start_of(Half(off.first_on, "am"))
        end = axis.end_of(Half(off.last_on, AFTERNOON))
        if end <= x:
            continue
        yield Box(
            x=x,
            y=y,
            width=end - x,
            height=BLOCK_HEIGHT,
            words=fit(off.words, end - x - 14),
            more="",
            label=off.words,
            job_id=0,
            is_done=False,
        )


def _tails(visits: Sequence[Visit], axis: Axis, block_y: int) -> list[Tail]:
    wet = [
        (visit, _tail_cells(visit, visit.dry_on, axis))
        for visit in visits
        if visit.dry_on
    ]
    seen = [(visit, cells) for visit, cells in wet if cells]
    spans = [
        (cells[0].x, cells[-1].x + cells[-1].width + _flag_width(visit))
        for visit, cells in seen
    ]
    return [
        _tail(visit, cells, axis, block_y, lane)
        for (visit, cells), lane in zip(seen, _lanes(spans), strict=True)
    ]


def _tail(
    visit: Visit, cells: tuple[TailCell, ...], axis: Axis, block_y: int, lane: int
) -> Tail:
    flag = axis.column(visit.dry_on) if visit.dry_on else None
    y = block_y + BLOCK_HEIGHT + lane * TAIL_HEIGHT
    return Tail(
        y=y,
        join_x=max(cells[0].x - 4, axis.start),
        join_y=block_y + BLOCK_HEIGHT,
        cells=cells,
        flag_x=flag.x if flag else None,
        flag_words=visit.follower,
        flag_width=_text_width(visit.follower) + 10,
    )


def _flag_width(visit: Visit) -> int:
    return _text_width(visit.follower) + 20


def _tail_cells(visit: Visit, dry_on: date, axis: Axis) -> tuple[TailCell, ...]:
    """Return one piece a day from the last trowel to the follower, paling by thirds."""
    first = visit.last.on if visit.last.half != AFTERNOON else visit.last.on + ONE_DAY
    wet_days = [first + n * ONE_DAY for n in range(max(0, (dry_on - first).days))]
    cells = []
    for number, day in enumerate(wet_days):
        column = axis.column(day)
        if column is None:
            continue
        x = axis.end_of(visit.last) if day == visit.last.on else column.x
        wet = WETTEST - WETTEST * number // len(wet_days)
        cells.append(TailCell(x=x, width=column.end - x, wet=wet))
    return tuple(cells)


def _trade_x(trade: Trade, axis: Axis) -> int | None:
    """Return where a trade's flag stands: at the end of its day, if that is shown."""
    column = axis.column(trade.on or trade.visit_on)
    if column is None:
        return None
    return column.end - 1 if trade.on else column.x + 1


def _mark(x: int, trade: Trade, y: int, foot_y: int) -> Mark:
    return Mark(x=x, y=y, foot_y=foot_y, words=_trade_words(trade), sure=trade.sure)


def _trade_words(trade: Trade) -> str:
    if trade.on is None:
        return f"{trade.name}: day not known"
    return f"{trade.name} out, {trade.sure}"


def _lanes(spans: Sequence[tuple[int, int]]) -> list[int]:
    """Give each span, in the order they come, the first lane that is free.

    >>> _lanes([(0, 10), (5, 12), (11, 20)])
    [0, 1, 0]
    """
    ends: list[int] = []
    lanes = []
    for start, end in spans:
        lane = next((n for n, taken in enumerate(ends) if taken <= start), len(ends))
        ends[lane : lane + 1] = [end]
        lanes.append(lane)
    return lanes


def fit(words: str, width: int, *, short: str = "") -> str:
    """Cut words to a width, with an ellipsis; the short form where five do not fit.

    >>> fit("Larch Row", 100), fit("Larch Row", 40), fit("Larch Row", 15, short="7")
    ('Larch Row', 'Larc…', '7')
    """
    room = max(0, width) * 10 // LETTER_TENTHS
    if len(words) <= room:
        return words
    if room >= FEWEST_LETTERS:
        return f"{words[: room - 1].rstrip()}…"
    return short if len(short) <= room else ""


def _text_width(words: str) -> int:
    return len(words) * LETTER_TENTHS // 10


def month_starts(columns: Sequence[Column]) -> list[Column]:
    """Return the first column and each that begins a month, for the heading."""
    new = [
        after
        for before, after in pairwise(columns)
        if after.on.month != before.on.month
    ]
    return [columns[0], *new]
