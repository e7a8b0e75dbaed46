"""When VAT falls due on a bill, and by which rule.

The rules are those of VATA 1994 s. 6 and, where a job is paid in parts, of regulation
93 of the VAT Regulations 1995, as the tax office's manual tells them (VATTOS2230, 5105,
5210, 5235, 9110). Ask the tax office or an adviser when a case looks different.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from firm.engine.money import pounds, share_out
from firm.engine.refusal import Refused
from firm.engine.tax import vat_rate_pct
from invoices.engine.bill_values import Bill, Deposit, TaxPoint, VatGroup

FOURTEEN_DAYS = timedelta(days=14)


def balance_point(bill: Bill) -> tuple[date, str]:
    """Return the tax point of what is billed now, and the rule that gives it.

    >>> balance_point(Bill(lines=(), completed_on=date(2026, 11, 2),
    ...                    issued_on=date(2026, 11, 17)))[0]
    datetime.date(2026, 11, 2)
    """
    done_on, issued_on = bill.completed_on, bill.issued_on
    if bill.deposits:
        return issued_on, (
            "paid in two or more parts, so the VAT invoice or the receipt counts, "
            "whichever is first; completion does not (VAT Regulations 1995 reg. 93)"
        )
    if done_on is None or issued_on < done_on:
        return issued_on, "billed before completion: the day of the VAT invoice"
    if _is_all_zero(bill):
        return done_on, (
            "day of completion: a bill for zero-rated work alone moves no tax point "
            "(VATTOS5210)"
        )
    if issued_on - done_on <= FOURTEEN_DAYS:
        return issued_on, (
            "billed within 14 days of completion: the day of the VAT invoice (VATA "
            "1994 s. 6(5))"
        )
    return done_on, (
        "billed more than 14 days after completion: back to the day of completion "
        "(VATA 1994 s. 6(3))"
    )


def tax_points(bill: Bill, vat: tuple[VatGroup, ...]) -> Iterator[TaxPoint]:
    """Return the day for each deposit and for the balance, adding up to the bill."""
    gross_gbp = sum((group.net_gbp + group.vat_gbp for group in vat), Decimal(0))
    left_gbp, left_vat_gbp = gross_gbp, sum((g.vat_gbp for g in vat), Decimal(0))
    for n, deposit in enumerate(bill.deposits):
        _check_rates(bill, deposit, f"deposits[{n}]")
        vat_gbp = min(left_vat_gbp, _vat_inside(deposit.gross_gbp, vat))
        left_gbp -= deposit.gross_gbp
        left_vat_gbp -= vat_gbp
        yield TaxPoint(
            on=deposit.received_on,
            gross_gbp=deposit.gross_gbp,
            vat_gbp=vat_gbp,
            why="deposit: the day the money came, for that amount (VATTOS5105)",
        )
    if left_gbp:
        on, why = balance_point(bill)
        yield TaxPoint(on=on, gross_gbp=left_gbp, vat_gbp=left_vat_gbp, why=why)


def _is_all_zero(bill: Bill) -> bool:
    return all(line.vat_kind == "zero" for line in bill.work)


def _check_rates(bill: Bill, deposit: Deposit, path: str) -> None:
    now, _ = balance_point(bill)
    for kind in {line.vat_kind for line in bill.work}:
        then_pct = vat_rate_pct(kind, deposit.received_on)
        # No rate on file has changed yet; when one does, s. 88 gives a choice.
        if vat_rate_pct(kind, now) != then_pct:  # pragma: no cover
            raise Refused(
                f"The {kind} VAT rate changed between the deposit and the bill. Ask "
                "an adviser how to bill across the change.",
                field=path,
            )


def _vat_inside(gross_gbp: Decimal, vat: tuple[VatGroup, ...]) -> Decimal:
    # A deposit pays each rate's share of the job; 600.00 all at 20 % holds 100.00.
    shares = share_out(gross_gbp, [group.net_gbp + group.vat_gbp for group in vat])
    return sum(
        (
            pounds(share * group.rate_pct / (100 + group.rate_pct))
            for share, group in zip(shares, vat, strict=True)
        ),
        Decimal(0),
    )
