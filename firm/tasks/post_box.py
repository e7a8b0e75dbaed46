"""The post box: letters really go by SMTP and never leave this machine.

Where no mail server is named, the worker runs one of its own on loopback that
keeps every letter as an .eml file in the firm's home, for any mail program.
"""

import asyncio
import threading
from pathlib import Path

from aiosmtpd.smtp import SMTP, Envelope, Session

from firm.actions.printing import store
from firm.tasks.smtp import MailServer

LARGEST_LETTER = 32 * 1024 * 1024


class Keeper:
    def __init__(self, folder: Path) -> None:
        self.folder = folder

    async def handle_DATA(  # noqa: N802 - the name that aiosmtpd calls
        self,
        server: SMTP,  # noqa: ARG002 - what aiosmtpd hands
        session: Session,  # noqa: ARG002 - what aiosmtpd hands
        envelope: Envelope,
    ) -> str:
        letter = envelope.content
        if not isinstance(letter, bytes):
            return "554 The letter is empty"
        store(letter, self.folder / f"{name_of(letter)}.eml")
        return "250 Kept"


def name_of(letter: bytes) -> str:
    """Name the file by the letter's Message-ID, so that one sent twice shows once."""
    for line in letter.split(b"\r\n"):
        if line.lower().startswith(b"message-id:"):
            mark = line.split(b":", 1)[1].decode("ascii", "replace").strip(" <>")
            return "".join(c for c in mark.split("@")[0] if c.isalnum()) or "unnamed"
    return "unnamed"


class PostBox:
    """A mail server in a thread of its own, at a free port of loopback."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        self.keeper = Keeper(folder)
        self.loop = asyncio.new_event_loop()
        self.thread = threading.Thread(target=self._run, name="post box", daemon=True)
        self.is_open = threading.Event()
        self.port = 0

    def open(self) -> MailServer:
        self.thread.start()
        self.is_open.wait()
        return MailServer(host="127.0.0.1", port=self.port)

    def shut(self) -> None:
        self.loop.call_soon_threadsafe(self.loop.stop)
        self.thread.join(timeout=2)

    def _run(self) -> None:
        asyncio.set_event_loop(self.loop)
        listening = self.loop.create_server(self._line, "127.0.0.1", 0)
        server = self.loop.run_until_complete(listening)
        self.port = server.sockets[0].getsockname()[1]
        self.is_open.set()
        try:
            self.loop.run_forever()
        finally:
            server.close()
            self.loop.close()

    def _line(self) -> SMTP:
        return SMTP(
            self.keeper,
            hostname="localhost",
            data_size_limit=LARGEST_LETTER,
            loop=self.loop,
        )
