"""Hand one letter to a mail server, knowing at every moment how far it came.

Up to the final dot a lost connection means that nothing was sent. After it the
server may have kept the letter although its answer never arrived.
"""

import contextlib
import re
import smtplib
import socket
import ssl
import threading
from collections.abc import Callable
from dataclasses import dataclass

from firm.actions.sending import Came, Outcome
from firm.models import NoticeAttempt

Phase = NoticeAttempt.Phase

DEADLINE_SECONDS = 120
LONGEST_ANSWER = 200
# 5xx while signing in speaks of our own account, not of the letter.
ABOUT_THE_LETTER = frozenset({Phase.SENDER, Phase.ADDRESS, Phase.WORDS, Phase.ANSWER})
NO_ANSWER = (
    "The letter was handed over, but the line broke before the mail server"
    " answered. It may have arrived: ask, or look in the mail server's own record."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MailServer:
    host: str
    port: int
    user: str = ""
    password: str = ""
    starttls: bool = False


class Answered(Exception):
    """The server said something other than yes."""

    def __init__(self, code: int, text: bytes) -> None:
        words = " ".join(text.decode("utf-8", "replace").split())
        super().__init__(words[:LONGEST_ANSWER])
        self.code = code


class StoodDown(Exception):
    """The letter was no longer wanted when the words would have left."""


class Handover:
    """One letter to one address over one connection."""

    def __init__(
        self,
        server: MailServer,
        *,
        our_name: str,
        deadline_seconds: int = DEADLINE_SECONDS,
    ) -> None:
        self.server = server
        self.phase = Phase.CONNECT
        self.deadline_seconds = deadline_seconds
        self.line = smtplib.SMTP(local_hostname=our_name, timeout=deadline_seconds)

    def run(
        self, *, sender: str, to: str, letter: bytes, begin: Callable[[], bool]
    ) -> Outcome:
        """Send, and say in one word and one sentence what came of it."""
        watch = threading.Timer(self.deadline_seconds, self._cut)
        watch.daemon = True
        watch.start()
        try:
            self._greet()
            self._address(sender, to)
            self._hand_over(letter, begin)
        except StoodDown:
            return Outcome(came=Came.STOOD_DOWN, phase=self.phase)
        except Answered as answer:
            return self._refused(answer)
        except smtplib.SMTPResponseException as answer:
            return self._refused(as_answer(answer))
        except (OSError, smtplib.SMTPException, ValueError) as fault:
            return self._broke(fault)
        finally:
            watch.cancel()
            self._hang_up()
        return Outcome(came=Came.GONE, phase=Phase.ANSWERED, code=250)

    def _greet(self) -> None:
        expect(2, self.line.connect(self.server.host, self.server.port))
        self.line.ehlo_or_helo_if_needed()
        self.phase = Phase.SIGN_IN
        if self.server.starttls:
            self.line.starttls(context=ssl.create_default_context())
            self.line.ehlo_or_helo_if_needed()
        if self.server.user:
            self.line.login(self.server.user, self.server.password)

    def _address(self, sender: str, to: str) -> None:
        self.phase = Phase.SENDER
        expect(2, self.line.mail(sender))
        self.phase = Phase.ADDRESS
        expect(2, self.line.rcpt(to))

    def _hand_over(self, letter: bytes, begin: Callable[[], bool]) -> None:
        if not begin():
            raise StoodDown
        self.phase = Phase.WORDS
        self.line.putcmd("data")
        expect(3, self.line.getreply())
        self.line.send(dotted(letter))
        self.phase = Phase.ANSWER
        self.line.send(b".\r\n")
        expect(2, self.line.getreply())

    def _refused(self, answer: Answered) -> Outcome:
        for_good = answer.code // 100 == 5 and self.phase in ABOUT_THE_LETTER
        where = self.phase.label
        return Outcome(
            came=Came.REFUSED if for_good else Came.LATER,
            phase=self.phase,
            code=answer.code,
            words=f"The mail server said no while {where}: {answer.code} {answer}",
        )

    def _broke(self, fault: Exception) -> Outcome:
        if self.phase is Phase.ANSWER:
            return Outcome(came=Came.UNSURE, phase=self.phase, words=NO_ANSWER)
        return Outcome(
            came=Came.LATER,
            phase=self.phase,
            words=f"Nothing was sent: the line broke while {self.phase.label}"
            f" ({type(fault).__name__}).",
        )

    def _cut(self) -> None:
        """End a handover that trickles past its deadline."""
        sock = self.line.sock
        if sock is not None:
            with contextlib.suppress(OSError):
                sock.shutdown(socket.SHUT_RDWR)

    def _hang_up(self) -> None:
        """Say goodbye without waiting for an answer."""
        with contextlib.suppress(OSError, smtplib.SMTPException):
            if self.line.sock is not None:
                self.line.sock.settimeout(1)
                self.line.putcmd("quit")
        self.line.close()


def expect(hundred: int, answer: tuple[int, bytes]) -> None:
    code, text = answer
    if code // 100 == hundred:
        return
    if code <= 0:
        raise smtplib.SMTPServerDisconnected("The mail server hung up.")
    raise Answered(code, text)


def as_answer(answer: smtplib.SMTPResponseException) -> Answered:
    text = answer.smtp_error
    raw = text if isinstance(text, bytes) else str(text).encode()
    return Answered(answer.smtp_code, raw)


def dotted(letter: bytes) -> bytes:
    """Double each dot that opens a line, and end on a whole line."""
    body = re.sub(rb"(?m)^\.", b"..", letter)
    return body if body.endswith(b"\r\n") else body + b"\r\n"
