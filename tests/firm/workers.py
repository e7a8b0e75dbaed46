"""Real worker processes on the test's own database."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from django.conf import settings

PATIENCE_SECONDS = 40


def surroundings(smtp_url: str) -> dict[str, str]:
    return {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "firm.settings",
        "FIRM_BOOTSTRAP": "0",
        "FIRM_SMTP_URL": smtp_url,
    }


@contextmanager
def worker(smtp_url: str, **environment: str) -> Iterator[subprocess.Popen[bytes]]:
    process = subprocess.Popen(
        [sys.executable, str(settings.BASE_DIR / "manage.py"), "work"],
        cwd=settings.BASE_DIR,
        env=surroundings(smtp_url) | environment,
    )
    try:
        yield process
    finally:
        process.send_signal(signal.SIGKILL)
        process.wait()


def eventually(is_so: Callable[[], bool], seconds: int = PATIENCE_SECONDS) -> bool:
    last_moment = time.monotonic() + seconds
    while time.monotonic() < last_moment:
        if is_so():
            return True
        time.sleep(0.05)
    return False
