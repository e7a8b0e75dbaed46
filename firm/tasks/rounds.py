import logging

from firm.actions.pulse import beat_pulse
from firm.actions.rounds import all_rounds
from firm.celery import app
from firm.queries.clock import database_now

log = logging.getLogger("firm.rounds")


@app.task(name="firm.tasks.minute")
def minute() -> None:
    """Make every round; one that fails does not keep the others from theirs."""
    for name, make_round in all_rounds().items():
        try:
            make_round(database_now())
        except Exception:
            log.exception("the round %s failed", name)


@app.task(name="firm.tasks.pulse")
def pulse() -> None:
    """Show that work is taken up and finished: relay, broker and worker alike."""
    beat_pulse(now=database_now())
