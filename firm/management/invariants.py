"""What must always hold, asked of the database in plain SQL.

Not through the models: a fault in a model must not hide itself here. Every
question returns a row for each thing at fault and runs on both databases.
"""

from dataclasses import dataclass

# SQLite keeps decimals as binary fractions; whole pennies compare exactly.
PENNIES = "CAST(ROUND({} * 100) AS BIGINT)"


@dataclass(frozen=True, kw_only=True)
class Invariant:
    """A sentence that must be true, and the question that finds where it is not."""

    code: str
    words: str
    sql: str


def _gapless(code: str, noun: str, table: str, series: str) -> Invariant:
    return Invariant(
        code=code,
        words=f"{noun} numbers run from 1 with no gap and no repeat",
        sql=(
            f"SELECT s.name, s.next_number, count(t.number), max(t.number)"
            f" FROM firm_numberseries s LEFT JOIN {table} t ON t.number IS NOT NULL"
            f" WHERE s.name = '{series}' GROUP BY s.name, s.next_number"
            f" HAVING count(t.number) <> s.next_number - 1"
            f" OR coalesce(max(t.number), 0) <> s.next_number - 1"
            f" OR count(DISTINCT t.number) <> count(t.number)"
        ),
    )


def _pennies(column: str) -> str:
    return PENNIES.format(column)


INVARIANTS = (
    _gapless("bill-numbers", "Bill", "invoices_bill", "bill"),
    _gapless("job-numbers", "Job", "jobs_job", "job"),
    _gapless("order-numbers", "Order", "jobs_materialorder", "order"),
    _gapless("quote-numbers", "Quote", "quotes_quote", "quote"),
    Invariant(
        code="bill-lines",
        words="a bill's net is the sum of its lines",
        sql=(
            "SELECT b.id, b.net_gbp FROM invoices_bill b WHERE"
            f" {_pennies('b.net_gbp')} <> (SELECT coalesce(sum("
            f"{_pennies('l.net_gbp')}), 0) FROM invoices_billline l"
            " WHERE l.bill_id = b.id)"
        ),
    ),
    Invariant(
        code="bill-adds-up",
        words="a bill's gross is net and VAT",
        sql=(
            "SELECT id FROM invoices_bill WHERE"
            f" {_pennies('net_gbp')} + {_pennies('vat_gbp')}"
            f" <> {_pennies('gross_gbp')}"
        ),
    ),
    Invariant(
        code="payment-not-overspent",
        words="no payment pays more than came in",
        sql=(
            "SELECT p.id FROM invoices_payment p JOIN invoices_allocation a"
            " ON a.payment_id = p.id GROUP BY p.id, p.amount_gbp"
            f" HAVING sum({_pennies('a.amount_gbp')}) > {_pennies('p.amount_gbp')}"
        ),
    ),
    Invariant(
        code="bill-not-overpaid",
        words="no bill is paid more than it asks for",
        sql=(
            "SELECT b.id FROM invoices_bill b JOIN invoices_allocation a"
            " ON a.bill_id = b.id LEFT JOIN invoices_reversal r"
            " ON r.payment_id = a.payment_id WHERE r.id IS NULL"
            " GROUP BY b.id, b.payable_gbp HAVING"
            f" sum({_pennies('a.amount_gbp')}) > {_pennies('b.payable_gbp')}"
        ),
    ),
    Invariant(
        code="only-issued-paid",
        words="only an issued bill is paid",
        sql=(
            "SELECT a.id FROM invoices_allocation a JOIN invoices_bill b"
            " ON b.id = a.bill_id WHERE b.state <> 'issued'"
        ),
    ),
    Invariant(
        code="acceptance-exact",
        words="a yes is to the exact version that was read",
        sql=(
            "SELECT a.id FROM quotes_acceptance a JOIN quotes_quoteversion v"
            " ON v.id = a.version_id WHERE a.digest <> v.digest"
            " OR v.state <> 'accepted' OR v.quote_id <> a.quote_id"
        ),
    ),
    Invariant(
        code="accepted-has-yes",
        words="an accepted version has its yes",
        sql=(
            "SELECT v.id FROM quotes_quoteversion v LEFT JOIN quotes_acceptance a"
            " ON a.version_id = v.id WHERE v.state = 'accepted' AND a.id IS NULL"
        ),
    ),
    Invariant(
        code="half-days",
        words="every half-day belongs to a standing booking of its own crew",
        sql=(
            "SELECT h.id FROM jobs_bookedhalf h JOIN jobs_booking b"
            " ON b.id = h.booking_id WHERE b.state <> 'booked'"
            " OR b.crew_id <> h.crew_id"
        ),
    ),
    Invariant(
        code="bookings-hold-days",
        words="a standing booking holds half-days from its first day to its last",
        sql=(
            "SELECT b.id FROM jobs_booking b LEFT JOIN jobs_bookedhalf h"
            " ON h.booking_id = b.id WHERE b.state = 'booked'"
            " GROUP BY b.id, b.first_on, b.last_on"
            ' HAVING count(h.id) = 0 OR min(h."on") <> b.first_on'
            ' OR max(h."on") <> b.last_on'
        ),
    ),
    Invariant(
        code="booked-jobs",
        words="a job in the diary has a standing booking",
        sql=(
            "SELECT j.id FROM jobs_job j WHERE j.stage = 'booked' AND NOT EXISTS"
            " (SELECT 1 FROM jobs_booking b WHERE b.job_id = j.id"
            " AND b.state = 'booked')"
        ),
    ),
    Invariant(
        code="paper-made",
        words="a letter that went with a paper had it made",
        sql=(
            "SELECT n.id FROM firm_notice n JOIN firm_paper p ON p.id = n.paper_id"
            " WHERE n.state = 'sent' AND p.state <> 'made'"
        ),
    ),
    Invariant(
        code="letter-once",
        words="a letter that went was answered for once",
        sql=(
            "SELECT a.notice_id FROM firm_noticeattempt a"
            " WHERE a.code BETWEEN 200 AND 299 AND a.phase = 'answered'"
            " GROUP BY a.notice_id HAVING count(*) > 1"
        ),
    ),
)
