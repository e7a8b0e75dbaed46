"""A PostgreSQL cluster and a Redis server of our own, for one run.

Both listen on loopback at a free port, keep their files in a temporary folder,
trade safety for speed and end with the process that asked for them.
"""

import contextlib
import os
import pwd
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

DEBIANS_POSTGRESQL = "/usr/lib/postgresql"
ENOUGH_SECONDS = 30
FAST_NOT_SAFE = (
    *("-c", "fsync=off"),
    *("-c", "synchronous_commit=off"),
    *("-c", "full_page_writes=off"),
)


class NotInstalled(Exception):
    """A program that a service needs is missing on this machine."""


@contextlib.contextmanager
def redis_server() -> Iterator[str]:
    """Run a Redis server of our own and give its address."""
    program = find_program("redis-server")
    with temporary_folder() as folder:
        port = free_port()
        command = [
            *(program, "--port", str(port), "--bind", "127.0.0.1"),
            *("--dir", str(folder), "--save", "", "--appendonly", "no"),
        ]
        with running(command, folder, lambda: redis_answers(port)):
            yield f"redis://127.0.0.1:{port}/0"


@contextlib.contextmanager
def postgres_cluster() -> Iterator[str]:
    """Run a PostgreSQL cluster of our own and give the address of its database."""
    programs = Path(find_program("initdb")).resolve().parent
    with temporary_folder() as folder:
        make_cluster(programs, folder)
        port = free_port()
        server = [
            *(str(programs / "postgres"), "-D", str(folder / "cluster")),
            *("-p", str(port), "-c", "listen_addresses=127.0.0.1"),
            *("-c", "unix_socket_directories=", *FAST_NOT_SAFE),
        ]
        where = ["-h", "127.0.0.1", "-p", str(port), "-U", "firm"]
        is_ready = [str(programs / "pg_isready"), "-q", *where]
        with running(server, folder, lambda: succeeds(is_ready)):
            subprocess.run([programs / "createdb", *where, "firm"], check=True)
            yield f"postgresql://firm@127.0.0.1:{port}/firm"


def make_cluster(programs: Path, folder: Path) -> None:
    subprocess.run(
        [
            *as_somebody("TERM"),
            *(str(programs / "initdb"), "-D", str(folder / "cluster")),
            *("--username=firm", "--auth=trust", "--no-sync", "--no-instructions"),
            *("--encoding=UTF8", "--locale=C.UTF-8"),
        ],
        cwd=folder,
        stdout=subprocess.DEVNULL,
        check=True,
    )


def find_program(name: str) -> str:
    """Find a program on the path or where Debian keeps PostgreSQL's."""
    homes = sorted(Path(DEBIANS_POSTGRESQL).glob("*/bin"), reverse=True)
    path = os.pathsep.join([os.environ.get("PATH", ""), *map(str, homes)])
    found = shutil.which(name, path=path)
    if found is None:
        raise NotInstalled(f"{name} is not installed on this machine.")
    return found


@contextlib.contextmanager
def temporary_folder() -> Iterator[Path]:
    """Make a folder owned by the user the service will run as."""
    with tempfile.TemporaryDirectory(prefix="firm-service-") as name:
        if account := unprivileged_account():
            os.chown(name, account.pw_uid, account.pw_gid)
        yield Path(name)


def unprivileged_account() -> pwd.struct_passwd | None:
    """Choose who runs a service when we are root: PostgreSQL refuses root."""
    if os.geteuid() != 0:
        return None
    known = {account.pw_name: account for account in pwd.getpwall()}
    return known.get("postgres") or known["nobody"]


def as_somebody(end_by: str) -> list[str]:
    """Start of a command: drop root, and get a signal should we die first."""
    setpriv = shutil.which("setpriv")
    if setpriv is None:
        return []
    start = [setpriv, "--pdeathsig", end_by]
    if account := unprivileged_account():
        start += ["--reuid", str(account.pw_uid), "--regid", str(account.pw_gid)]
        start += ["--clear-groups"]
    return [*start, "--"]


@contextlib.contextmanager
def running(
    command: list[str], folder: Path, is_ready: Callable[[], bool]
) -> Iterator[None]:
    """Keep a server running for as long as the block lasts."""
    with (folder / "log").open("wb") as log:
        server = subprocess.Popen(
            [*as_somebody("INT"), *command],
            cwd=folder,
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=subprocess.STDOUT,
            # Ctrl-C at the terminal is for us; we then end the server ourselves.
            start_new_session=True,
        )
        try:
            wait_until_ready(server, is_ready, folder / "log")
            yield
        finally:
            end(server)


def wait_until_ready(
    server: subprocess.Popen[bytes], is_ready: Callable[[], bool], log: Path
) -> None:
    last_moment = time.monotonic() + ENOUGH_SECONDS
    while time.monotonic() < last_moment:
        if server.poll() is not None:
            break
        if is_ready():
            return
        time.sleep(0.05)
    raise RuntimeError(f"A service did not start:\n{log.read_text(errors='replace')}")


def end(server: subprocess.Popen[bytes]) -> None:
    """Ask for a quick end (SIGINT is PostgreSQL's fast one), then insist."""
    server.send_signal(signal.SIGINT)
    try:
        server.wait(timeout=10)
    except subprocess.TimeoutExpired:
        server.kill()
        server.wait()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def redis_answers(port: int) -> bool:
    try:
        with socket.create_connection(("127.0.0.1", port), timeout=1) as line:
            line.sendall(b"PING\r\n")
            return line.recv(7) == b"+PONG\r\n"
    except OSError:
        return False


def succeeds(command: list[str]) -> bool:
    return subprocess.run(command, check=False).returncode == 0
