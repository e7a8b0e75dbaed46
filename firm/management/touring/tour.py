"""One job from the call to the money, in an empty home, from tomorrow morning on."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from django.conf import settings
from django.core.management import call_command
from django.db import connection

from firm.engine.refusal import Refused
from firm.engine.trade.materials import PRODUCTS
from firm.management.demo import told
from firm.management.demo.days import Days, moment
from firm.management.demo.opening_day import open_the_firm
from firm.management.touring import earning, winning, working
from firm.management.touring.post import Post
from firm.management.touring.walk import Walk
from firm.models import Firm, Person
from firm.tasks.worker import post_box_if_needed

NOT_EMPTY = "There is a firm in this home already. The tour wants one of its own."
REAL_MAIL = (
    "FIRM_SMTP_URL names a mail server. The tour sends to a post box of its own:"
    " leave it out."
)
# Easy rates and a ten-pound price for every pack, so that the sums can be worked by
# hand: 30 and 20 pounds an hour, a tenth of overhead, a fifth of the price as margin.
EASY_RATES = {
    "plasterer_hour_gbp": Decimal("30.00"),
    "labourer_hour_gbp": Decimal("20.00"),
    "overhead_pct": Decimal("10.00"),
    "margin_pct": Decimal("20.00"),
    "minimum_charge_gbp": Decimal("200.00"),
}
TEN_POUNDS = dict.fromkeys(PRODUCTS, Decimal("10.00"))
STEPS = (
    winning.the_phone_rings,
    winning.the_look,
    winning.what_goes_on_it,
    winning.the_quote,
    working.the_diary,
    working.the_materials,
    working.the_crews_tomorrow,
    earning.the_bill,
    earning.what_is_left,
)


def walk_one_job(*, tell: Callable[[str], object], now: datetime) -> None:
    """Take every step and say what it made; a surprise ends it."""
    if settings.FIRM_SMTP is not None:
        raise Refused(REAL_MAIL)
    if _has_a_firm():
        raise Refused(NOT_EMPTY)
    call_command("migrate", interactive=False, verbosity=0)
    tell(f"One job from the call to the money, on {connection.display_name}.")
    tell("Its clock runs ahead of yours; papers are printed and letters sent for real.")
    walk = _begin(tell, now)
    with post_box_if_needed():
        welcomed = walk.post.send_due(now=walk.days.at("0 08:00"))
        tell(f"{len(welcomed)} letters welcomed those who work here.")
        for step in STEPS:
            step(walk)
    tell("")
    tell(f"Nine steps, {walk.letters} letters, {walk.checked} things as they must be.")


def _has_a_firm() -> bool:
    """Look before anything is written, the tables included."""
    tables = connection.introspection.table_names()
    if Firm._meta.db_table not in tables:
        return False
    return Firm.objects.exists() or Person.objects.staff().exists()


def _begin(tell: Callable[[str], object], now: datetime) -> Walk:
    """Open the demo's firm on the morning of the next working day."""
    tomorrow = Days(now).on(1)
    days = Days(moment(tomorrow, "08:00"))
    setting = told.the_setting()
    merchant = replace(setting.merchants[0], prices=TEN_POUNDS)
    easy = replace(
        setting, rates=EASY_RATES, merchants=(merchant,), own_figures=(), time_off=()
    )
    cast = open_the_firm(easy, days=days, now=moment(tomorrow, "07:30"))
    return Walk(tell=tell, days=days, cast=cast, post=Post(settings.FIRM_HOME))
