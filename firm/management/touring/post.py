"""Papers really printed and letters really sent, by the workers' own functions.

The relay claims by the tour's clock; printing and sending are the very tasks that a
worker runs, over SMTP to a post box on this machine, and what arrived is read back.
"""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path

from firm.actions import printing, sending
from firm.models import Notice, Paper
from firm.queries.papers import path_of
from firm.tasks.letters import send_letter
from firm.tasks.papers import print_paper
from firm.tasks.post_box import name_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    title: str
    kilobytes: int
    file: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """A letter as the mail server kept it."""

    kind: str
    to: str
    subject: str
    text: str
    attached: str
    attached_digest: str


class Post:
    def __init__(self, home: Path) -> None:
        self.home = home

    def print_due(self, *, now: datetime) -> Iterator[Printed]:
        while claims := printing.claim_papers(now=now):
            for paper_id, claim in claims:
                print_paper(paper_id, claim)
                yield self._printed(Paper.objects.get(pk=paper_id))

    def _printed(self, paper: Paper) -> Printed:
        if not paper.is_made:
            raise RuntimeError(f"{paper.title} was not printed: {paper.why}")
        file = path_of(paper.digest)
        return Printed(
            title=paper.title,
            kilobytes=round((paper.size_bytes or 0) / 1024),
            file=file.relative_to(self.home),
        )

    def claim(self, *, now: datetime) -> list[tuple[int, int]]:
        return sending.claim_letters(now=now)

    def send(self, claims: list[tuple[int, int]]) -> list[Notice]:
        for notice_id, claim in claims:
            send_letter(notice_id, claim)
        found = Notice.objects.filter(pk__in=[pk for pk, _ in claims])
        return list(found.order_by("pk"))

    def send_due(self, *, now: datetime) -> list[Arrived]:
        letters: list[Arrived] = []
        while claims := self.claim(now=now):
            letters += [self._arrived(notice) for notice in self.send(claims)]
        return letters

    def _arrived(self, notice: Notice) -> Arrived:
        if notice.state != Notice.State.SENT:
            raise RuntimeError(f"“{notice.subject}” did not go: {notice.why}")
        letter = self.read(notice)
        paper = next(letter.iter_attachments(), None)
        content = paper.get_payload(decode=True) if paper else b""
        body = letter.get_body()
        return Arrived(
            kind=notice.kind,
            to=str(letter["To"]),
            subject=str(letter["Subject"]).strip(),
            text=body.get_content() if body else "",
            attached=(paper.get_filename() or "") if paper else "",
            attached_digest=hashlib.sha256(bytes(content)).hexdigest(),
        )

    def read(self, notice: Notice) -> EmailMessage:
        """Return the letter as it lies in the post box."""
        name = name_of(f"Message-ID: {notice.message_id}".encode())
        kept = (self.home / "post" / f"{name}.eml").read_bytes()
        letter = message_from_bytes(kept, policy=policy.default)
        if not isinstance(letter, EmailMessage):
            raise RuntimeError(f"What was kept of “{notice.subject}” is no letter.")
        return letter
