"""What the wall chart is laid out from, and what comes out: places and sizes."""

from dataclasses import dataclass
from datetime import date

from jobs.engine.slots import AFTERNOON, Half

# How deep a tail is drawn in its lane.
TAIL_DEPTH = 16
NARROWEST_WITH_DATE = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewLine:
    """A crew's line of the chart: its name, and how full it is in words."""

    crew_id: int
    name: str
    load_words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A booked run of half-days, and the day on which its plaster is dry."""

    job_id: int
    crew_id: int
    title: str
    number: str
    what: str
    label: str
    first: Half
    last: Half
    dry_on: date | None
    follower: str
    is_done: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Trade:
    """Another trade's day beside a visit; without a day it stands at the visit."""

    job_id: int
    crew_id: int
    name: str
    on: date | None
    sure: str
    visit_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Off:
    crew_id: int
    first_on: date
    last_on: date
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    on: date
    x: int
    width: int
    is_rest: bool
    is_holiday: bool
    is_today: bool

    @property
    def date_words(self) -> str:
        """Return the day of the month, unless the column is too narrow for it."""
        return str(self.on.day) if self.width >= NARROWEST_WITH_DATE else ""

    @property
    def middle(self) -> int:
        return self.x + self.width // 2

    @property
    def end(self) -> int:
        return self.x + self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """Something drawn as a rectangle with words in it."""

    x: int
    y: int
    width: int
    height: int
    words: str
    more: str
    label: str
    job_id: int
    is_done: bool

    @property
    def text_x(self) -> int:
        return self.x + 7

    @property
    def text_y(self) -> int:
        return self.y + 19

    @property
    def more_y(self) -> int:
        return self.y + 37


@dataclass(frozen=True, slots=True, kw_only=True)
class TailCell:
    x: int
    width: int
    wet: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tail:
    """A drying tail in its lane; `flag_x` is where the next trade may start."""

    y: int
    join_x: int
    join_y: int
    cells: tuple[TailCell, ...]
    flag_x: int | None
    flag_words: str
    flag_width: int

    @property
    def first_x(self) -> int:
        return self.cells[0].x

    @property
    def end_y(self) -> int:
        return self.y + TAIL_DEPTH

    @property
    def flag_tip(self) -> int:
        return self.flag_width + 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A flag on a pole for another trade, above the visit it belongs to."""

    x: int
    y: int
    foot_y: int
    words: str
    sure: str

    @property
    def text_y(self) -> int:
        return self.y + 13

    @property
    def text_x(self) -> int:
        return self.x + 15


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    crew_id: int
    name: str
    load_words: str
    y: int
    height: int
    block_y: int
    blocks: tuple[Box, ...]
    offs: tuple[Box, ...]
    tails: tuple[Tail, ...]
    marks: tuple[Mark, ...]

    @property
    def name_y(self) -> int:
        return self.block_y + 19

    @property
    def load_y(self) -> int:
        return self.block_y + 37

    @property
    def end_y(self) -> int:
        return self.y + self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    width: int
    height: int
    axis_x: int
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """Where a day or a half-day lies across the chart."""

    columns: tuple[Column, ...]

    @property
    def start(self) -> int:
        return self.columns[0].x

    @property
    def end(self) -> int:
        return self.columns[-1].end

    def start_of(self, half: Half) -> int:
        column = self.column(half.on)
        if column is None:
            return self.start if half.on < self.columns[0].on else self.end
        is_late = half.half == AFTERNOON
        return column.x + column.width // 2 if is_late else column.x

    def end_of(self, half: Half) -> int:
        column = self.column(half.on)
        if column is None:
            return self.start if half.on < self.columns[0].on else self.end
        return column.end if half.half == AFTERNOON else column.x + column.width // 2

    def column(self, day: date) -> Column | None:
        number = (day - self.columns[0].on).days
        return self.columns[number] if 0 <= number < len(self.columns) else None
