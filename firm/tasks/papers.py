import logging

from firm.actions import bell, papers, printing
from firm.celery import app
from firm.engine.refusal import Refused
from firm.models import Paper
from firm.queries.clock import database_now

log = logging.getLogger("firm.papers")
FAULT = "It did not print: something went wrong in the office's own program."


@app.task(name="firm.tasks.print_paper")
def print_paper(paper_id: int, claim: int) -> None:
    """Print one claimed paper and keep it."""
    claimed = Paper.objects.filter(state=Paper.State.PRINTING, claim=claim)
    paper = claimed.filter(pk=paper_id).first()
    if paper is not None:
        _print(paper, claim)
    bell.ring()


def _print(paper: Paper, claim: int) -> None:
    press = papers.press_for(paper.kind)
    try:
        if press is None:
            raise Refused(f"Nobody here knows how to print a {paper.kind}.")
        pdf = press(paper.snapshot)
        printing.keep_paper(paper.pk, claim, pdf=pdf, now=database_now())
    except Refused as refusal:
        printing.set_aside(paper.pk, claim, why=refusal.text, now=database_now())
    except Exception:
        log.exception("paper %s did not print", paper.pk)
        printing.set_aside(paper.pk, claim, why=FAULT, now=database_now())
    log.info("paper %s claim %s printed or set aside", paper.pk, claim)
