"""Keep the keys of signed links out of the log."""

import logging


class HideKeys(logging.Filter):
    """Cut the key out of log lines that name an address."""

    def filter(self, record: logging.LogRecord) -> bool:
        if isinstance(record.args, tuple):
            record.args = tuple(_without_key(part) for part in record.args)
        return True


def _without_key(part: object) -> object:
    return "/l/…/" if isinstance(part, str) and part.startswith("/l/") else part
