"""One job of the demo: what its story shares from the call to the money."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from firm.engine.refusal import Refused
from firm.management.demo import told
from firm.management.demo.days import Act, Clock, Days
from firm.management.demo.opening_day import Cast


@dataclass(slots=True, kw_only=True)
class Stage:
    """What all stories share: the days, the clock, the cast and who is in the book."""

    days: Days
    clock: Clock
    cast: Cast
    customers: dict[str, told.CustomerTold]
    rooms: dict[str, told.RoomTold]
    in_the_book: dict[str, int]


@dataclass(slots=True, kw_only=True)
class Story:
    """A job as it is told, and its row once the phone has rung."""

    stage: Stage
    told: told.JobTold
    # Rows of the apps above, whose classes this app does not know.
    job: Any = None
    booking: Any = None

    def plan(self, at: datetime, act: Act) -> None:
        """Plan an act; what is refused names the job that it was about."""

        def tell(now: datetime) -> None:
            try:
                act(now)
            except Refused as refusal:
                where = (
                    f"{self.told.customer}, “{self.told.what}”, {now:%a %-d %b %H:%M}"
                )
                raise Refused(f"{where}: {refusal.text}") from refusal

        self.stage.clock.plan(at, tell)

    def plan_at(self, words: str, act: Act) -> None:
        self.plan(self.stage.days.at(words), act)
