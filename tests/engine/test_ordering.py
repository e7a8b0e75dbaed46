from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from jobs.engine.ordering import Need, Ordering, Stock, order


def need(quantity="110", on=date(2026, 4, 8), item="finish", **changes):
    whole = {"unit": "kg", "pack_size": Decimal(25)}
    return Need(
        item=item, quantity=Decimal(quantity), needed_on=on, **(whole | changes)
    )


def ask(*needs, **changes):
    return Ordering(needs=needs, **({"today": date(2026, 4, 1)} | changes))


# By hand: 110 kg less 25 held is 85 kg = 3.4 bags; two working days before Wednesday
# 8 April 2026 is Thursday 2 April, because 3 and 6 April are bank holidays.
def test_easter_moves_the_last_day_to_order():
    held = (Stock(item="finish", quantity=Decimal(25)),)
    line = order(ask(need(), stock=held)).lines[0]
    assert (line.short, line.packs) == (Decimal(85), 4)
    assert line.order_by_on == date(2026, 4, 2)
    assert not line.is_late


def test_the_day_after_the_last_day_is_late():
    assert order(ask(need(), today=date(2026, 4, 3))).lines[0].is_late
    assert not order(ask(need(), today=date(2026, 4, 2))).lines[0].is_late


# 55 + 55 = 110 kg is 5 bags for both jobs; job by job it would be 3 + 3.
def test_two_jobs_share_the_odd_bag():
    assert order(ask(need("55"), need("55"))).lines[0].packs == 5


def test_the_lock_up_serves_the_first_job_first():
    early, late = need("50", on=date(2026, 4, 8)), need("50", on=date(2026, 4, 22))
    held = (Stock(item="finish", quantity=Decimal(50)),)
    line = order(ask(late, early, stock=held)).lines[0]
    assert (line.packs, line.needed_on) == (2, date(2026, 4, 22))


def test_a_full_lock_up_orders_nothing_and_is_never_late():
    held = (Stock(item="finish", quantity=Decimal(200)),)
    line = order(ask(need(), stock=held, today=date(2026, 5, 1))).lines[0]
    assert (line.packs, line.is_late, line.from_stock) == (0, False, Decimal(110))


def test_the_firms_own_closure_counts_as_no_working_day():
    shut = ask(need(on=date(2026, 4, 16)), closed_on=(date(2026, 4, 15),))
    assert order(shut).lines[0].order_by_on == date(2026, 4, 13)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"needs": ()}, "needs"),
        ({"needs": (need("0"),)}, "needs[0]"),
        ({"needs": (need(), need(pack_size=Decimal(10)))}, "needs[1].pack_size"),
        (
            {"stock": (Stock(item="finish", quantity=Decimal(-1)),)},
            "stock[0].quantity",
        ),
        ({"lead_working_days": -1}, "lead_working_days"),
    ],
)
def test_an_order_that_cannot_be_is_refused(changes, field):
    assert order(ask(need())).lines
    with pytest.raises(Refused) as refusal:
        order(replace(ask(need()), **changes))
    assert refusal.value.field == field


@given(
    st.lists(st.decimals("0.1", "500", places=2), min_size=1, max_size=6),
    st.decimals(0, 800, places=2),
)
def test_packs_cover_the_shortage_and_one_fewer_does_not(quantities, held):
    stock = (Stock(item="finish", quantity=held),)
    line = order(ask(*map(need, quantities), stock=stock)).lines[0]
    assert line.packs * line.pack_size >= line.short
    assert line.packs == 0 or (line.packs - 1) * line.pack_size < line.short
    assert line.from_stock + line.short == line.needed
