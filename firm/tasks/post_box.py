"""The post box: letters really go by SMTP and never leave this machine.

Where no mail server is named, the worker runs one of its own on loopback that
keeps every letter as an .eml file in the firm's home, for any mail program.
"""

from pathlib import Path

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session

from firm.actions.printing import store
from firm.tasks.smtp import MailServer

LARGEST_LETTER = 32 * 1024 * 1024


class Keeper:
    def __init__(self, folder: Path) -> None:
        self.folder = folder

    async def handle_DATA(  # noqa: N802 - the name that aiosmtpd calls
        self, server: SMTP, session: Session, envelope: Envelope
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
    """A mail server of this worker's own, at a free port of loopback."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with_room = {"data_size_limit": LARGEST_LETTER}
        self.controller = Controller(
            Keeper(folder), hostname="127.0.0.1", port=0, server_kwargs=with_room
        )

    def open(self) -> MailServer:
        self.controller.start()
        port = self.controller.server.sockets[0].getsockname()[1]
        return MailServer(host="127.0.0.1", port=port)

    def shut(self) -> None:
        self.controller.stop()
