"""Guards over the firm's own tables: history and payees only ever grow."""

from firm.models.guards import freeze, register

register(
    freeze(
        name="history_stays",
        table="firm_historyline",
        events="UPDATE DELETE",
        when="OLD.id IS NOT NULL",
        words="history is never changed",
    )
    + freeze(
        name="payee_stays",
        table="firm_payee",
        events="UPDATE DELETE",
        when="OLD.id IS NOT NULL",
        words="a payee is never changed, only followed by another",
    )
)
