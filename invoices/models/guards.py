"""Guards over the ledger: an issued bill never changes, money is never edited.

Sums are compared in whole pennies, because SQLite keeps decimals as binary
fractions. PostgreSQL locks the payment and the bill before it adds up: without
the lock two sessions together allocate more than there is.
"""

from firm.models.guards import Guard, freeze, register

BILL, LINE = "invoices_bill", "invoices_billline"
PAYMENT, ALLOCATION = "invoices_payment", "invoices_allocation"
REVERSAL = "invoices_reversal"

BILL_STAYS = "an issued bill is never changed"
LINE_STAYS = "the lines of an issued bill are never changed"
MONEY_STAYS = "money is never edited, only taken back by another row"
TOO_MUCH_OF_PAYMENT = "more is allocated than the payment holds"
TOO_MUCH_OF_BILL = "more is allocated than the bill asks for"


def line_guard(event: str) -> Guard:
    """Refuse one kind of change to a line whose bill has been issued."""
    row = "NEW" if event == "INSERT" else "OLD"
    issued = f"(SELECT state FROM {BILL} WHERE id = {row}.bill_id) = 'issued'"
    name = f"bill_line_stays_{event.lower()}"
    answer = "NEW" if event != "DELETE" else "OLD"
    return Guard(
        name=name,
        table=LINE,
        sqlite=(
            f"CREATE TRIGGER {name} BEFORE {event} ON {LINE} WHEN {issued}"
            f" BEGIN SELECT RAISE(ABORT, '{LINE_STAYS}'); END"
        ),
        postgresql=_plpgsql(
            name=name,
            table=LINE,
            event=event,
            body=(
                f"IF {issued} THEN RAISE EXCEPTION '{LINE_STAYS}'"
                f" USING ERRCODE = '23514'; END IF; RETURN {answer};"
            ),
        ),
    )


def _plpgsql(*, name: str, table: str, event: str, body: str, declare: str = "") -> str:
    return (
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql"
        f" AS $$ {declare} BEGIN {body} END $$;"
        f" CREATE TRIGGER {name} BEFORE {event} ON {table}"
        f" FOR EACH ROW EXECUTE FUNCTION {name}()"
    )


def _pennies(sum_of: str) -> str:
    return f"CAST(ROUND({sum_of} * 100) AS BIGINT)"


def _allocated(column: str) -> str:
    """Return the SQL that adds up what already counts against a payment or bill."""
    return (
        f"SELECT COALESCE(SUM({_pennies('a.amount_gbp')}), 0) FROM {ALLOCATION} a"
        f" WHERE a.{column} = NEW.{column} AND NOT EXISTS"
        f" (SELECT 1 FROM {REVERSAL} r WHERE r.payment_id = a.payment_id)"
    )


def allocation_guard() -> Guard:
    """Refuse to allocate more than the payment holds or the bill asks for."""
    name, new = "allocation_stays_within", _pennies("NEW.amount_gbp")
    return Guard(
        name=name,
        table=ALLOCATION,
        sqlite=(
            f"CREATE TRIGGER {name} BEFORE INSERT ON {ALLOCATION} BEGIN"
            f" SELECT RAISE(ABORT, '{TOO_MUCH_OF_PAYMENT}')"
            f" WHERE ({_allocated('payment_id')}) + {new} >"
            f" (SELECT {_pennies('amount_gbp')} FROM {PAYMENT}"
            " WHERE id = NEW.payment_id);"
            f" SELECT RAISE(ABORT, '{TOO_MUCH_OF_BILL}')"
            f" WHERE ({_allocated('bill_id')}) + {new} >"
            f" (SELECT {_pennies('payable_gbp')} FROM {BILL}"
            " WHERE id = NEW.bill_id AND state = 'issued')"
            f" OR (SELECT state FROM {BILL} WHERE id = NEW.bill_id) <> 'issued'; END"
        ),
        postgresql=_plpgsql(
            name=name,
            table=ALLOCATION,
            event="INSERT",
            declare="DECLARE held bigint; asked bigint;",
            body=(
                f"SELECT {_pennies('payable_gbp')} INTO asked FROM {BILL}"
                " WHERE id = NEW.bill_id AND state = 'issued' FOR UPDATE;"
                f" SELECT {_pennies('amount_gbp')} INTO held FROM {PAYMENT}"
                " WHERE id = NEW.payment_id FOR UPDATE;"
                f" IF ({_allocated('payment_id')}) + {new} > held THEN"
                f" RAISE EXCEPTION '{TOO_MUCH_OF_PAYMENT}' USING ERRCODE = '23514';"
                " END IF;"
                f" IF asked IS NULL OR ({_allocated('bill_id')}) + {new} > asked THEN"
                f" RAISE EXCEPTION '{TOO_MUCH_OF_BILL}' USING ERRCODE = '23514';"
                " END IF; RETURN NEW;"
            ),
        ),
    )


register(
    freeze(
        name="bill_stays",
        table=BILL,
        events="UPDATE DELETE",
        when="OLD.state = 'issued'",
        words=BILL_STAYS,
    )
)
register(line_guard(event) for event in ("INSERT", "UPDATE", "DELETE"))
register([allocation_guard()])
for _name, _table in (
    ("payment_stays", PAYMENT),
    ("allocation_stays", ALLOCATION),
    ("reversal_stays", REVERSAL),
):
    register(
        freeze(
            name=_name,
            table=_table,
            events="UPDATE DELETE",
            when="OLD.id IS NOT NULL",
            words=MONEY_STAYS,
        )
    )
