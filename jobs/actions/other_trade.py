"""The electrician before us, the decorator after: who, and when they are done."""

from dataclasses import asdict, dataclass
from datetime import date, datetime

from django.db import transaction

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.engine.working_days import WorkingDays
from firm.models import Person
from firm.templatetags.figures import short_day
from jobs.engine import contact
from jobs.models import Job, OtherTrade

ONLY_THE_OFFICE = "Only the office can write other trades down."
MOST_DAYS_LATE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeFacts:
    """Whose work, on which side of ours, and what is known of its day."""

    side: str
    trade: str
    who: str = ""
    phone: str = ""
    ready_on: date | None = None
    sure: str = OtherTrade.Sure.UNKNOWN
    follows: str = ""


@transaction.atomic
def add_other_trade(
    job_id: int, facts: TradeFacts, *, by: Person, now: datetime
) -> OtherTrade:
    """Write down somebody else's work on a job."""
    _check(by)
    if not Job.objects.live().filter(pk=job_id).exists():
        raise Refused("This job is closed. Take it up again first.")
    trade = OtherTrade.objects.create(job_id=job_id, **_columns(facts))
    _tell(trade, "trade-added", f"{trade.trade}: {_day(trade)}.", by, now)
    return trade


@transaction.atomic
def edit_other_trade(
    trade_id: int, facts: TradeFacts, *, by: Person, now: datetime
) -> None:
    """Change what is written about another trade's work."""
    _check(by)
    trade = _locked(trade_id)
    before = _day(trade)
    columns = _columns(facts)
    OtherTrade.objects.filter(pk=trade.pk).update(**columns)
    trade.refresh_from_db()
    after = _day(trade)
    change = f"{before}, now {after}" if before != after else "details changed"
    _tell(trade, "trade-changed", f"{trade.trade}: {change}.", by, now)


@transaction.atomic
def put_off_other_trade(
    trade_id: int,
    working_days: int,
    calendar: WorkingDays,
    *,
    by: Person,
    now: datetime,
) -> None:
    """Move another trade's day on: "the electrician is three days late"."""
    _check(by)
    trade = _locked(trade_id)
    if trade.ready_on is None:
        raise Refused(f"No day is known for the {trade.trade.lower()}. Give one first.")
    if not 1 <= working_days <= MOST_DAYS_LATE:
        raise Refused(f"Give between 1 and {MOST_DAYS_LATE} working days.")
    before = trade.ready_on
    trade.ready_on = calendar.add(before, working_days)
    trade.save(update_fields=["ready_on"])
    days = "a working day" if working_days == 1 else f"{working_days} working days"
    words = f"{trade.trade} {days} late: {short_day(before)}, now {_day(trade)}."
    _tell(trade, "trade-late", words, by, now)


@transaction.atomic
def drop_other_trade(trade_id: int, *, by: Person, now: datetime) -> None:
    """Take another trade off a job again."""
    _check(by)
    trade = _locked(trade_id)
    _tell(trade, "trade-dropped", f"{trade.trade}: no longer on this job.", by, now)
    trade.delete()


def _check(by: Person) -> None:
    if not may.take_enquiries(by):
        raise Refused(ONLY_THE_OFFICE)


def _locked(trade_id: int) -> OtherTrade:
    trade = OtherTrade.objects.select_for_update().filter(pk=trade_id).first()
    if trade is None:
        raise Refused("That trade is no longer on this job.")
    return trade


def _columns(facts: TradeFacts) -> dict[str, object]:
    """A day nobody gave stays unknown: it is never guessed."""
    is_unknown = facts.sure == OtherTrade.Sure.UNKNOWN
    if is_unknown and facts.ready_on is not None:
        raise Refused(
            "Say whether that day is promised or expected, or leave it out.",
            field="sure",
        )
    if not is_unknown and facts.ready_on is None:
        raise Refused("Give the day, or say that it is not known.", field="ready_on")
    columns = asdict(facts)
    columns |= {"trade": contact.line(facts.trade), "who": contact.line(facts.who)}
    columns["phone"] = contact.phone_number(facts.phone) if facts.phone else ""
    return columns


def _day(trade: OtherTrade) -> str:
    if trade.ready_on is None:
        return "day not known"
    return f"{trade.get_sure_display().lower()} for {short_day(trade.ready_on)}"


def _tell(trade: OtherTrade, event: str, words: str, by: Person, now: datetime) -> None:
    about = ("job", trade.job_id)
    history.write(about=about, event=event, words=words, now=now, by=by)
