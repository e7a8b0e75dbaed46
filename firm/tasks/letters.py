import logging
from urllib.parse import urlsplit

from django.conf import settings

from firm.actions import bell, sending
from firm.actions.sending import Came, Outcome
from firm.celery import app
from firm.documents.letter import wire_bytes
from firm.engine.refusal import Refused
from firm.models import Notice, NoticeAttempt
from firm.queries.clock import database_now
from firm.queries.papers import paper_bytes
from firm.tasks.smtp import Handover, MailServer

log = logging.getLogger("firm.letters")
FAULT = "Something went wrong in the office's own program; the log says what."
# The worker's own post box, when no mail server is named.
_post_box: list[MailServer] = []


def use_post_box(server: MailServer) -> None:
    _post_box[:] = [server]


@app.task(name="firm.tasks.send_letter")
def send_letter(notice_id: int, claim: int) -> None:
    """Send one claimed letter and record what came of it."""
    notice = sending.take_up(notice_id, claim, now=database_now())
    if notice is not None:
        outcome = _send(notice, claim)
        if outcome.came is not Came.STOOD_DOWN:
            sending.settle(notice_id, claim, outcome=outcome, now=database_now())
        log.info("letter %s claim %s: %s", notice_id, claim, outcome.came)
    bell.ring()


def _send(notice: Notice, claim: int) -> Outcome:
    handover = Handover(mail_server(), our_name=our_name())

    def begin() -> bool:
        return sending.begin_handing_over(notice.pk, claim, now=database_now())

    try:
        pdf = paper_bytes(notice.paper) if notice.paper else None
        letter = wire_bytes(notice, sender=settings.FIRM_MAIL_FROM, pdf=pdf)
        return handover.run(
            sender=settings.FIRM_MAIL_FROM,
            to=notice.to_address,
            letter=letter,
            begin=begin,
        )
    except Refused as refusal:
        return Outcome(
            came=Came.REFUSED, phase=NoticeAttempt.Phase.CONNECT, words=refusal.text
        )
    except Exception:
        log.exception("letter %s did not go", notice.pk)
        return Outcome(came=Came.LATER, phase=handover.phase, words=FAULT)


def mail_server() -> MailServer:
    if settings.FIRM_SMTP is not None:
        return MailServer(**settings.FIRM_SMTP)
    if not _post_box:
        raise RuntimeError("No mail server is named and this worker has no post box.")
    return _post_box[0]


def our_name() -> str:
    """Name ourselves to the mail server without asking the network who we are."""
    host = urlsplit(settings.FIRM_ADDRESS).hostname or "localhost"
    return f"[{host}]" if host.replace(".", "").isdigit() else host
