"""What fixtures/demo tells: the firm, its customers, rooms and the story of each job.

Days are counted in working days from the latest one that has begun: "-3 09:15" is a
quarter past nine on the third working day before it.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Literal, TypeVar

from django.conf import settings

from firm.engine.reading import read

Told = TypeVar("Told")


@dataclass(frozen=True, slots=True, kw_only=True)
class FirmTold:
    name: str
    address: str
    postcode: str
    phone: str
    email: str
    vat_number: str
    account_name: str
    sort_code: str
    account_number: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewTold:
    name: str
    plasterers: int = 1
    labourers: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonTold:
    name: str
    email: str
    phone: str
    role: Literal["owner", "office", "books", "lead", "crew"]
    crew: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MerchantTold:
    name: str
    email: str
    phone: str
    lead_working_days: int
    prices: Mapping[str, Decimal]


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeOffTold:
    crew: str
    first: int
    last: int
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFigureTold:
    code: str
    value: Decimal
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """The firm as it stood before the first call of the demo."""

    firm: FirmTold
    rates: Mapping[str, Decimal]
    crews: tuple[CrewTold, ...]
    people: tuple[PersonTold, ...]
    merchants: tuple[MerchantTold, ...]
    time_off: tuple[TimeOffTold, ...]
    own_figures: tuple[OwnFigureTold, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerTold:
    name: str
    phone: str
    email: str
    address: str
    postcode: str
    kind: Literal["home", "main", "firm"] = "home"


@dataclass(frozen=True, slots=True, kw_only=True)
class WallTold:
    """What a wall was found to be; `outside_corner` when it ends round one."""

    mm: int
    outside_corner: bool = False
    background: str = ""
    suction: str = ""
    hollow_pct: int = 0
    out_of_true_mm: int = 0
    crack_mm: Decimal = Decimal(0)
    is_in: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningTold:
    wall: str
    kind: Literal["door", "window", "fire", "hatch", "light", "left"]
    width_mm: int
    height_mm: int
    left_mm: int | None = None
    sill_mm: int | None = None
    touches_edge: bool = False
    reveals: Literal["", "head", "all"] = ""
    reveal_depth_mm: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomTold:
    """A room; two walls make a rectangle, more are walked."""

    name: str
    height_mm: int
    background: str
    walls: tuple[WallTold, ...]
    ceiling: str = ""
    chase_mm: int = 0
    openings: tuple[OpeningTold, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitTold:
    on: int
    at: str
    who: str = "owner@example.com"


@dataclass(frozen=True, slots=True, kw_only=True)
class LookTold:
    at: str
    rooms: tuple[str, ...]
    year: int | None = None
    is_listed: bool = False
    sample: Literal["none", "negative", "positive"] = "none"
    sample_report: str = ""
    note: str = ""
    is_finished: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteTold:
    at: str
    is_sent: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerTold:
    """The customer's own yes or no, or a yes by phone when `how` says so."""

    at: str
    yes: bool = True
    how: str = ""
    because: str = ""
    asks_early_start: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeTold:
    at: str
    side: Literal["before", "after"]
    trade: str
    who: str = ""
    phone: str = ""
    ready: int | None = None
    sure: Literal["promised", "expected", "unknown"] = "unknown"
    follows: Literal["mist", "second", "tiles", ""] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortTold:
    code: str
    packs: int
    trouble: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderTold:
    """An order, so many working days after the booking was made."""

    merchant: str
    after: int = 1
    is_sent: bool = True
    is_ticked_off: bool = True
    short: tuple[ShortTold, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteTold:
    """A note on the nth day of the visit."""

    day: int
    at: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BookingTold:
    """The crew's first free run from a day on."""

    at: str
    crew: str
    first: int
    orders: tuple[OrderTold, ...] = ()
    notes: tuple[NoteTold, ...] = ()
    is_finished: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PaymentTold:
    """Money, so many working days after the bill; a part of it in per cent."""

    after: int
    pct: int = 100
    method: Literal["bank", "card", "cash", "cheque"] = "bank"
    reference: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldTold:
    after: int
    kind: Literal["dispute", "promise", "pause"]
    words: str
    until: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BillTold:
    """The bill, so many working days after the last trowel was washed."""

    after: int = 0
    payments: tuple[PaymentTold, ...] = ()
    hold: HoldTold | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LostTold:
    at: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JobTold:
    customer: str
    what: str
    said: str
    rang: str
    address: str = ""
    postcode: str = ""
    way_in: str = ""
    parking: str = ""
    others_on_site: str = ""
    heard_of_us: str = ""
    wanted_by: int | None = None
    visit: VisitTold | None = None
    look: LookTold | None = None
    quotes: tuple[QuoteTold, ...] = ()
    answer: AnswerTold | None = None
    trades: tuple[TradeTold, ...] = ()
    booking: BookingTold | None = None
    bill: BillTold | None = None
    lost: LostTold | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Customers:
    customers: Mapping[str, CustomerTold]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rooms:
    rooms: Mapping[str, RoomTold]


@dataclass(frozen=True, slots=True, kw_only=True)
class Jobs:
    jobs: tuple[JobTold, ...]


def the_setting() -> Setting:
    return _file(Setting, "firm.json")


def the_customers() -> Mapping[str, CustomerTold]:
    return _file(Customers, "customers.json").customers


def the_rooms() -> Mapping[str, RoomTold]:
    return _file(Rooms, "rooms.json").rooms


def the_jobs() -> list[JobTold]:
    files = sorted(path.name for path in _folder().glob("jobs-*.json"))
    return [job for name in files for job in _file(Jobs, name).jobs]


def _folder() -> Path:
    return Path(settings.BASE_DIR) / "fixtures" / "demo"


def _file(kind: type[Told], name: str) -> Told:
    return read(kind, json.loads((_folder() / name).read_text("utf-8")))
