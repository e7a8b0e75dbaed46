"""A letter as it goes over the wire: words, and the paper beside them."""

import re
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime, formataddr

from firm.models import Firm, Notice


def wire_bytes(notice: Notice, *, sender: str, pdf: bytes | None) -> bytes:
    letter = EmailMessage(policy=SMTP)
    letter["From"] = formataddr((_firm_name(), sender))
    letter["To"] = formataddr((notice.to_name, notice.to_address))
    letter["Subject"] = notice.subject
    letter["Date"] = format_datetime(notice.made_at)
    letter["Message-ID"] = notice.message_id
    letter["Auto-Submitted"] = "auto-generated"
    letter["Content-Language"] = "en-GB"
    letter.set_content(notice.text)
    if pdf is not None and notice.paper is not None:
        letter.add_attachment(
            pdf,
            maintype="application",
            subtype="pdf",
            filename=file_name(notice.paper.title),
        )
    return letter.as_bytes()


def _firm_name() -> str:
    firm = Firm.objects.first()
    return firm.name if firm else "The office"


def file_name(title: str) -> str:
    plain = re.sub(r"[^\w .-]+", " ", title)
    return f"{' '.join(plain.split())[:80] or 'paper'}.pdf"
