"""When the trades after us may start on a booked job, by the drying engine."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from firm.engine.trade.drying import Coating
from firm.engine.trade.drying import Follower as Followers
from jobs.engine.drying import DryAnswer, Drying, Start, dry
from jobs.models import Job, OtherTrade
from jobs.queries.calendar import working_days_around

BOARD_DAYS, RESKIM_DAYS = 3, 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Follower:
    """A trade after us, when it may start, and when it wants to."""

    trade: OtherTrade | None
    name: str
    start_on: date
    is_firm: bool
    rule: str
    state: str
    wanted_on: date | None

    @property
    def is_too_soon(self) -> bool:
        return self.wanted_on is not None and self.wanted_on < self.start_on


def drying_days_of(job: Job) -> int:
    """Return how long the slowest surface of the job dries."""
    return max((item.drying_days for item in job.work_items.all()), default=0)


def followers_of(
    job: Job, *, finish_on: date, counts_clear_days: bool
) -> tuple[Follower, ...]:
    """Return the mist coat, then each trade that waits for our plaster."""
    days = drying_days_of(job)
    if not days:
        return ()
    waiting = [
        trade
        for trade in job.other_trades.all()
        if trade.side == OtherTrade.Side.AFTER and trade.follows
    ]
    names = ("mist_coat", *(_name_of(trade) for trade in waiting))
    answer = _answer(names, days, finish_on, counts_clear_days=counts_clear_days)
    mist = next((t for t in waiting if t.follows == OtherTrade.Follows.MIST), None)
    first, *others = answer.starts
    return (
        _follower(mist, first),
        *(
            _follower(trade, start)
            for trade, start in zip(waiting, others, strict=True)
            if trade is not mist
        ),
    )


def _answer(
    names: Sequence[Followers], days: int, finish_on: date, *, counts_clear_days: bool
) -> DryAnswer:
    coating, thickness_mm = _coating(days)
    question = Drying(
        finish_on=finish_on,
        coating=coating,
        thickness_mm=thickness_mm,
        convention="clear" if counts_clear_days else "elapsed",
        followers=tuple(names),
    )
    return dry(question, calendar=working_days_around(finish_on))


def _coating(days: int) -> tuple[Coating, int]:
    """Return a coating that dries so many days: a millimetre a day when solid."""
    if days == BOARD_DAYS:
        return "skim_on_board", 0
    if days == RESKIM_DAYS:
        return "reskim", 0
    return "undercoat_and_finish", days


def _name_of(trade: OtherTrade) -> Followers:
    if trade.follows == OtherTrade.Follows.MIST:
        return "mist_coat"
    if trade.follows == OtherTrade.Follows.TILES:
        return "tiler"
    is_electrician = trade.trade.lower().startswith("electric")
    return "electrician_second_fix" if is_electrician else "joiner_second_fix"


def _follower(trade: OtherTrade | None, start: Start) -> Follower:
    return Follower(
        trade=trade,
        name=trade.trade if trade else start.follower.capitalize(),
        start_on=start.start_on,
        is_firm=start.is_firm,
        rule=start.rule,
        state=start.state,
        wanted_on=trade.ready_on if trade else None,
    )
