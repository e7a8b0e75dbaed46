#!/usr/bin/env python3
"""The firm's one command: makes its own environment, then does as it is told.

Only the standard library up to the last step, and no syntax newer than the
oldest Python that should read the sentence about its age.
"""

from __future__ import annotations

import contextlib
import ctypes.util
import fcntl
import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

OLDEST = (3, 11)
PROJECT = Path(__file__).resolve().parent
LOCK = PROJECT / "requirements.lock"
ONLY_TO_CHECK = "# --- from here on: only to check it ---\n"
VENV = PROJECT / ".venv"
PYTHON = VENV / "bin" / "python"
STAMP = VENV / "holds"
POLICY = Path("/usr/sbin/policy-rc.d")
VERSION = f"python{sys.version_info[0]}.{sys.version_info[1]}"


def main() -> None:
    if sys.version_info < OLDEST:
        sys.exit(
            f"This needs Python 3.11 or newer and was started with {VERSION}."
            " Start it again as python3.11 manage.py, or a newer one."
        )
    if os.environ.get("FIRM_BOOTSTRAP") != "0":
        set_up(everything=sys.argv[1:2] == ["verify"])
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "firm.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


def set_up(*, everything: bool) -> None:
    """Bring what is missing and go on inside the environment that holds it."""
    to_run = missing_to_run()
    to_check = missing_to_check() if everything else []
    bring(to_run + to_check, needed=bool(to_run))
    is_inside = Path(sys.prefix).resolve() == VENV
    with LOCK.open() as lock:
        # Two commands started at once must not both fill one folder.
        fcntl.flock(lock, fcntl.LOCK_EX)
        is_fresh = fill_environment(
            lock.read(), everything=everything, is_inside=is_inside
        )
    if is_fresh and is_inside:
        return
    os.environ["FIRM_BOOTSTRAP"] = "0"
    again = [str(PYTHON), str(PROJECT / "manage.py"), *sys.argv[1:]]
    os.execv(PYTHON, again)  # noqa: S606 - a shell would only stand in between


def missing_to_run() -> list[str]:
    """Name the Debian packages without which no paper can be made."""
    libraries = {
        "libpango-1.0-0": "pango-1.0",
        "libpangoft2-1.0-0": "pangoft2-1.0",
        "libharfbuzz-subset0": "harfbuzz-subset",
    }
    missing = [
        package
        for package, library in libraries.items()
        if ctypes.util.find_library(library) is None
    ]
    if importlib.util.find_spec("ensurepip") is None:
        missing.append("python3-venv")
    return missing


def missing_to_check() -> list[str]:
    """Name the Debian packages that only the checks use."""
    programs = {"chromium": "chromium", "redis-server": "redis-server", "git": "git"}
    missing = [
        package for package, program in programs.items() if not shutil.which(program)
    ]
    debians = Path("/usr/lib/postgresql").glob("*/bin/initdb")
    if not any(debians) and not shutil.which("initdb"):
        missing.append("postgresql")
    return missing


def bring(packages: list[str], *, needed: bool) -> None:
    """Install system packages where we may; elsewhere say what to do."""
    if not packages:
        return
    line = "apt-get install --yes --no-install-recommends " + " ".join(packages)
    if not shutil.which("apt-get"):
        advice = f"This machine is missing {', '.join(packages)}."
        advice += " Install what goes by these names here, then start again."
    elif os.geteuid() != 0:
        advice = f"Some parts are missing. Run this, then start again:\n  sudo {line}"
    else:
        say(f"Fetching {', '.join(packages)}.")
        with nothing_started():
            run_quietly(["sh", "-c", f"apt-get update; {line}"])
        return
    if needed:
        sys.exit(advice)
    say(advice)


@contextlib.contextmanager
def nothing_started() -> Iterator[None]:
    """Keep fresh packages from starting their services on this machine."""
    if POLICY.exists():
        yield
        return
    POLICY.write_text("#!/bin/sh\nexit 101\n")
    POLICY.chmod(0o755)
    try:
        yield
    finally:
        POLICY.unlink()


def fill_environment(lock: str, *, everything: bool, is_inside: bool) -> bool:
    """Fill .venv from the lock; answer whether it already held it all."""
    to_run = lock.partition(ONLY_TO_CHECK)[0]
    held = STAMP.read_text() if PYTHON.exists() and STAMP.exists() else ""
    if held == stamp_for(lock) or (held == stamp_for(to_run) and not everything):
        return True
    if not is_inside and VERSION not in held:
        # Nothing yet, another Python's, or the rest of an attempt that broke off.
        say("Making a Python environment in .venv.")
        run_quietly([sys.executable, "-m", "venv", "--clear", str(VENV)])
    # An environment that once held the checks keeps them up to date.
    wanted = lock if everything or held.startswith("all") else to_run
    STAMP.unlink(missing_ok=True)
    install(wanted)
    STAMP.write_text(stamp_for(wanted))
    return False


def stamp_for(pins: str) -> str:
    part = "all" if ONLY_TO_CHECK in pins else "run"
    return " ".join([part, VERSION, hashlib.sha256(pins.encode()).hexdigest()])


def install(pins: str) -> None:
    say("Fetching the Python packages.")
    with tempfile.NamedTemporaryFile("w", suffix=".txt") as wanted:
        wanted.write(pins)
        wanted.flush()
        pip = [str(PYTHON), "-m", "pip", "install", "-qq", "--no-input"]
        pip += ["--disable-pip-version-check", "--require-hashes"]
        if not sys.dont_write_bytecode:
            # The first use compiles what it needs, sooner than pip compiles it all.
            pip.append("--no-compile")
        run_quietly([*pip, "--only-binary", ":all:", "-r", wanted.name])


def run_quietly(command: list[str]) -> None:
    """Run it, and let it speak only when it fails."""
    began = time.monotonic()
    environment = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
    done = subprocess.run(
        command,
        check=False,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    if done.returncode != 0:
        say(done.stdout)
        sys.exit("That did not work; what went wrong stands above. Start it again.")
    say(f"  took {time.monotonic() - began:.0f} s")


def say(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
