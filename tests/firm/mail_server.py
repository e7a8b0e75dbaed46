"""A real SMTP server on loopback that can fail in every way one does."""

import asyncio
import email
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from email.message import EmailMessage
from email.policy import default

from aiosmtpd.smtp import SMTP, Envelope, Session

FOR_EVER = 600


class FaultyServer:
    """`fault` is one of the names below, and may change between two letters."""

    def __init__(self) -> None:
        self.fault = ""
        self.raw: list[bytes] = []
        self.seen_addresses: list[str] = []
        self.loop = asyncio.new_event_loop()
        self.is_open = threading.Event()
        self.thread = threading.Thread(target=self._run, daemon=True)
        self.port = 0

    @property
    def url(self) -> str:
        return f"smtp://127.0.0.1:{self.port}"

    @property
    def letters(self) -> list[EmailMessage]:
        return [email.message_from_bytes(raw, policy=default) for raw in self.raw]

    @property
    def message_ids(self) -> list[str]:
        return [str(letter["Message-ID"]) for letter in self.letters]

    async def handle_RCPT(  # noqa: N802 - the name that aiosmtpd calls
        self,
        server: SMTP,
        session: Session,
        envelope: Envelope,
        address: str,
        options: list[str],
    ) -> str:
        self.seen_addresses.append(address)
        if self.fault == "refuse the address":
            return "550 No such person here"
        if self.fault == "put off the address":
            return "451 Busy, come back"
        if self.fault == "stall at the address":
            await asyncio.sleep(FOR_EVER)
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(  # noqa: N802 - the name that aiosmtpd calls
        self, server: SMTP, session: Session, envelope: Envelope
    ) -> str:
        if self.fault == "refuse the words":
            return "554 Looks like rubbish"
        if self.fault == "put off the words":
            return "452 Full, come back"
        assert isinstance(envelope.content, bytes)
        self.raw.append(envelope.content)
        if self.fault == "drop after the dot":
            server.transport.abort()
        if self.fault == "stall after the dot":
            await asyncio.sleep(FOR_EVER)
        return "250 Kept"

    def _run(self) -> None:
        asyncio.set_event_loop(self.loop)
        server = self.loop.run_until_complete(
            self.loop.create_server(self._line, "127.0.0.1", 0)
        )
        self.port = server.sockets[0].getsockname()[1]
        self.is_open.set()
        self.loop.run_forever()
        server.close()
        for task in asyncio.all_tasks(self.loop):
            task.cancel()
        self.loop.run_until_complete(asyncio.sleep(0.05))
        self.loop.close()

    def _line(self) -> SMTP:
        return SMTP(self, hostname="localhost", loop=self.loop)


@contextmanager
def faulty_server() -> Iterator[FaultyServer]:
    server = FaultyServer()
    server.thread.start()
    server.is_open.wait()
    try:
        yield server
    finally:
        server.loop.call_soon_threadsafe(server.loop.stop)
        server.thread.join(timeout=5)
