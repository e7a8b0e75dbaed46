"""The whole firm on the test's database: web server, worker, mail server."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from email.message import EmailMessage

from django.conf import settings

from firm.hashing import MeasuredArgon2
from firm.management.household import answers
from firm.management.services import free_port
from firm.models import Person
from tests import make
from tests.firm.mail_server import FaultyServer, faulty_server
from tests.firm.workers import eventually, surroundings, worker


@dataclass(frozen=True, kw_only=True)
class Running:
    address: str
    post: FaultyServer

    def letter_to(self, to: str, about: str) -> EmailMessage:
        """Wait until a letter has really come in, and return it."""
        assert eventually(lambda: bool(self._found(to, about))), self._all()
        return self._found(to, about)[-1]

    def _found(self, to: str, about: str) -> list[EmailMessage]:
        return [
            letter
            for letter in self.post.letters
            if to in str(letter["To"]) and about in str(letter["Subject"])
        ]

    def _all(self) -> list[str]:
        return [f"{letter['To']}: {letter['Subject']}" for letter in self.post.letters]


@contextmanager
def whole_firm() -> Iterator[Running]:
    port = free_port()
    address = f"http://127.0.0.1:{port}"
    with faulty_server() as post:
        command = [sys.executable, "manage.py", "serve", "--port", str(port)]
        environment = surroundings(post.url) | {"FIRM_ADDRESS": address}
        web = subprocess.Popen(command, cwd=settings.BASE_DIR, env=environment)
        try:
            with worker(post.url, FIRM_ADDRESS=address):
                assert eventually(lambda: answers(port))
                yield Running(address=address, post=post)
        finally:
            web.terminate()
            web.wait(timeout=20)


def let_sign_in(person: Person) -> Person:
    """Keep the password as the firm itself does; tests keep it in a hurry."""
    person.password = MeasuredArgon2().encode(make.PASSWORD, "salt of the cast")
    person.save()
    return person


def text_of(letter: EmailMessage) -> str:
    body = letter.get_body(("plain",))
    return body.get_content() if body else ""


def papers_in(letter: EmailMessage) -> list[bytes]:
    return [
        part.get_content()
        for part in letter.iter_attachments()
        if part.get_content_type() == "application/pdf"
    ]
