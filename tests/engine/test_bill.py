from dataclasses import replace
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firm.engine.refusal import Refused
from invoices.engine.bill import Bill, ContractLine, Deposit, Extra, draw_bill

ISSUED = date(2026, 11, 24)


def line(net_gbp="500.00", **changes):
    return ContractLine(what="skim", net_gbp=Decimal(net_gbp), **changes)


def extra(net_gbp="80.00", agreed_on=date(2026, 11, 20), **changes):
    return Extra(
        what="a reveal more", net_gbp=Decimal(net_gbp), agreed_on=agreed_on, **changes
    )


def deposit(gross_gbp="600.00", on=date(2026, 11, 3)):
    return Deposit(gross_gbp=Decimal(gross_gbp), received_on=on)


def bill(*lines, **changes):
    return Bill(lines=lines or (line(),), **({"issued_on": ISSUED} | changes))


# Source: HMRC VATREC12030, half a penny goes up (5 % of 2370.10 is 118.505 → 118.51);
# VAT Notice 700: 600.00 with 20 % is 500.00 + 100.00, 1000.00 is 833.33 + 166.67.
@pytest.mark.parametrize(
    ("net_gbp", "kind", "vat_gbp"),
    [
        ("2370.10", "reduced", "118.51"),
        ("500.00", "standard", "100.00"),
        ("833.33", "standard", "166.67"),
        ("0.02", "standard", "0.00"),
    ],
)
def test_vat_rounds_half_a_penny_up(net_gbp, kind, vat_gbp):
    assert draw_bill(bill(line(net_gbp, vat_kind=kind))).vat_gbp == Decimal(vat_gbp)


# Source: VAT fractions 1/6 and 1/21 (VAT Notice 700): 105.00 at 5 % is 100.00 + 5.00.
def test_the_reduced_rate_is_five_per_cent():
    answer = draw_bill(bill(line("100.00", vat_kind="reduced")))
    assert (answer.vat_gbp, answer.gross_gbp) == (Decimal("5.00"), Decimal("105.00"))


# By hand: 3 × 0.13 = 0.39, 20 % = 0.078 → 0.08; by line 3 × 0.03 would be 0.09.
def test_vat_is_worked_once_on_the_sum_of_the_lines():
    answer = draw_bill(bill(line("0.13"), line("0.13"), line("0.13")))
    assert [group.vat_gbp for group in answer.vat] == [Decimal("0.08")]


# Source: HMRC VATTOS2230 and 5235, the 14-day rule: 2 November plus 14 is 16 November.
@pytest.mark.parametrize(
    ("completed", "issued", "tax_point"),
    [
        (date(2026, 11, 2), date(2026, 11, 16), date(2026, 11, 16)),
        (date(2026, 11, 2), date(2026, 11, 17), date(2026, 11, 2)),
        (date(2026, 11, 20), date(2026, 11, 10), date(2026, 11, 10)),
        (None, date(2026, 11, 10), date(2026, 11, 10)),
    ],
)
def test_the_invoice_moves_the_tax_point_for_fourteen_days(
    completed, issued, tax_point
):
    points = draw_bill(bill(completed_on=completed, issued_on=issued)).tax_points
    assert [point.on for point in points] == [tax_point]


# Source: HMRC VATTOS5210: an invoice for zero-rated work is not a VAT invoice here.
def test_a_zero_rated_bill_leaves_the_tax_point_at_completion():
    zero = bill(line(vat_kind="zero"), completed_on=date(2026, 11, 20))
    assert draw_bill(zero).tax_points[0].on == date(2026, 11, 20)
    assert draw_bill(zero).vat[0].category == "Z"


# Source: VAT Regulations 1995 reg. 93, VATTOS9110: deposit and balance are two
# payments, so completion counts for nothing. 600.00 received at 20 % holds VAT 100.00.
def test_a_deposit_has_its_own_tax_point_on_the_day_it_came():
    answer = draw_bill(
        bill(line("1000.00"), deposits=(deposit(),), completed_on=date(2026, 11, 2))
    )
    first, balance = answer.tax_points
    assert (first.on, first.vat_gbp) == (date(2026, 11, 3), Decimal("100.00"))
    assert (balance.on, balance.gross_gbp) == (ISSUED, Decimal("600.00"))
    assert (answer.deposit_gbp, answer.payable_gbp) == (Decimal(600), Decimal(600))


# Source: VAT Regulations 1995 reg. 16A: not over 250 pounds with VAT. 208.33 + 41.67
# is 250.00; 208.34 + 41.67 is 250.01.
@pytest.mark.parametrize(("net_gbp", "may"), [("208.33", True), ("208.34", False)])
def test_a_simplified_invoice_ends_at_two_hundred_and_fifty(net_gbp, may):
    assert draw_bill(bill(line(net_gbp))).may_be_simplified is may


def test_a_firm_that_is_not_registered_bills_no_vat():
    answer = draw_bill(bill(is_vat_registered=False))
    assert (answer.vat_gbp, answer.gross_gbp) == (0, Decimal("500.00"))
    assert [group.category for group in answer.vat] == ["O"]
    assert answer.tax_points == ()
    assert not answer.may_be_simplified
    assert answer.wording == ("Not VAT registered: no VAT is charged.",)


def test_an_agreed_extra_is_billed_and_an_omission_comes_off():
    answer = draw_bill(bill(extras=(extra("80.00"), extra("-30.00"))))
    assert answer.net_gbp == Decimal("550.00")
    assert [each.quantity for each in answer.lines] == [1, 1, -1]


def test_the_bill_falls_due_after_the_days_agreed():
    assert draw_bill(bill(terms_days=14)).due_on == date(2026, 12, 8)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"lines": ()}, "lines"),
        ({"lines": (line("1.005"),)}, "lines[0]"),
        ({"extras": (extra(agreed_on=None),)}, "extras[0].agreed_on"),
        ({"extras": (extra(agreed_on=date(2026, 11, 25)),)}, "extras[0].agreed_on"),
        ({"extras": (extra("1.005"),)}, "extras[0]"),
        ({"extras": (extra("-500.01"),)}, ""),
        ({"deposits": (deposit("600.01"),)}, "deposits"),
        ({"deposits": (deposit("0"),)}, "deposits[0]"),
        ({"deposits": (deposit(on=date(2026, 11, 25)),)}, "deposits[0].received_on"),
        ({"terms_days": -1}, "terms_days"),
        ({"is_reverse_charge": True}, "is_reverse_charge"),
        ({"retention_pct": Decimal(5)}, "retention_pct"),
        ({"cis_deduction_pct": Decimal(20)}, "cis_deduction_pct"),
    ],
)
def test_a_bill_that_cannot_be_drawn_is_refused(changes, field):
    assert draw_bill(bill()).payable_gbp == Decimal("600.00")
    with pytest.raises(Refused) as refusal:
        draw_bill(replace(bill(), **changes))
    assert refusal.value.field == field
    assert str(refusal.value).endswith(".")


# 17.5 % ended on 3 January 2011 and is not on file: refused, not guessed.
def test_a_deposit_before_the_rate_table_is_refused():
    with pytest.raises(Refused, match="no standard VAT rate on file"):
        draw_bill(bill(deposits=(deposit(on=date(2011, 1, 3)),)))


nets_gbp = st.decimals("0", "20000", places=2)
kinds = st.sampled_from(["standard", "reduced", "zero"])
bill_lines = st.lists(
    st.builds(ContractLine, what=st.just("work"), net_gbp=nets_gbp, vat_kind=kinds),
    min_size=1,
    max_size=10,
)


# Source: EN 16931-1 business rules BR-CO-10, 13, 14, 15, 16, 17 (no allowances or
# charges: BT-107 and BT-108 are nothing; no rounding: BT-114 is nothing).
@given(bill_lines, st.integers(0, 3))
def test_totals_keep_the_rules_of_the_standard(lines, tenths):
    plain = draw_bill(bill(*lines))
    part_gbp = (plain.gross_gbp * tenths / 10).quantize(Decimal("0.01"))
    paid = (deposit(str(part_gbp)),) if part_gbp else ()
    answer = draw_bill(bill(*lines, deposits=paid))
    totals = answer.totals
    assert totals["BT-106"] == sum(each.net_gbp for each in answer.lines)
    assert totals["BT-109"] == totals["BT-106"]
    assert totals["BT-110"] == sum(group.vat_gbp for group in answer.vat)
    assert totals["BT-112"] == totals["BT-109"] + totals["BT-110"]
    assert totals["BT-115"] == totals["BT-112"] - totals["BT-113"]
    for group in answer.vat:
        exact = group.net_gbp * group.rate_pct / 100
        penny = exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
        assert group.vat_gbp == penny
    assert all(amount == round(amount, 2) for amount in totals.values())


@given(bill_lines.filter(lambda lines: sum(each.net_gbp for each in lines)))
def test_tax_points_add_up_to_the_bill(lines):
    whole = draw_bill(bill(*lines)).gross_gbp
    half = max(Decimal("0.01"), (whole / 2).quantize(Decimal("0.01")))
    answer = draw_bill(bill(*lines, deposits=(deposit(str(min(half, whole))),)))
    assert sum(point.gross_gbp for point in answer.tax_points) == answer.gross_gbp
    assert sum(point.vat_gbp for point in answer.tax_points) == answer.vat_gbp


@given(bill_lines)
def test_the_order_of_lines_changes_no_total(lines):
    forwards, backwards = draw_bill(bill(*lines)), draw_bill(bill(*reversed(lines)))
    assert forwards.totals == backwards.totals
    assert forwards.due_on - ISSUED == timedelta(days=14)
