"""A real PostgreSQL server of the tests' own: its data in a temporary folder, on a free port of loopback, ended after.

Debian's packages put the programs below /usr/lib/postgresql. A server never runs as root: as root the tests start it as
the user that the package made.
"""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path

import psycopg

__all__ = ["Server", "programs", "server"]

_USER = "postgres"
_NAMES = count(1)


def programs() -> Path | None:
    """The folder with initdb and postgres, the newest version there is; ``None`` without any."""
    on_path = shutil.which("initdb")
    found = [Path(on_path).parent] if on_path else []
    found += sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda each: float(each.parent.name), reverse=True)
    return next((each for each in found if (each / "initdb").exists() and (each / "postgres").exists()), None)


class Server:
    """A running server; ``database`` makes a new, empty database on it."""

    def __init__(self, port: int) -> None:
        self.port = port

    def database(self) -> str:
        """The URL of a database that nobody has used before."""
        name = f"trainer_{next(_NAMES)}"
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(f'CREATE DATABASE "{name}"')
        return self.url(name)

    def url(self, name: str) -> str:
        """The URL of the database called ``name``."""
        return f"postgresql://{_USER}@127.0.0.1:{self.port}/{name}"


@contextmanager
def server() -> Iterator[Server]:
    """A server for as long as the block lasts. Raises ``RuntimeError`` with what it said where it does not start."""
    bin_folder = programs()
    if bin_folder is None:
        raise RuntimeError("no PostgreSQL on this machine")
    # Not below pytest's own folder: that is closed to every other user.
    folder = Path(tempfile.mkdtemp(prefix="trainer-postgres-"))
    try:
        with _running(bin_folder, folder) as port:
            yield Server(port)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def _running(bin_folder: Path, folder: Path) -> Iterator[int]:
    data, port = folder / "data", _free_port()
    if os.geteuid() == 0:
        account = pwd.getpwnam(_USER)
        os.chown(folder, account.pw_uid, account.pw_gid)
    # A locale with an order of letters of its own: what the store sorts must not follow it.
    locale = ("-E", "UTF8", "--locale=C.UTF-8", "--locale-provider=icu", "--icu-locale=en-US")
    initdb = (bin_folder / "initdb", "-D", data, "-U", _USER, "--auth=trust", *locale)
    subprocess.run(_as_server(initdb), check=True, capture_output=True, cwd=folder)
    options = ("-p", str(port), "-c", "listen_addresses=127.0.0.1", "-c", f"unix_socket_directories={folder}")
    with (folder / "log").open("wb") as log:
        process = subprocess.Popen(
            _as_server((bin_folder / "postgres", "-D", data, *options)), stdout=log, stderr=log, cwd=folder
        )
    try:
        _wait(process, port, folder / "log")
        yield port
    finally:
        process.terminate()
        process.wait(timeout=30)


def _as_server(command: Sequence[str | Path]) -> list[str]:
    words = [str(each) for each in command]
    return ["setpriv", f"--reuid={_USER}", f"--regid={_USER}", "--init-groups", *words] if os.geteuid() == 0 else words


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _wait(process: subprocess.Popen[bytes], port: int, log: Path) -> None:
    """Return once the server answers; a process that has ended says why."""
    while process.poll() is None:
        with suppress(psycopg.OperationalError):
            psycopg.connect(f"postgresql://{_USER}@127.0.0.1:{port}/postgres", connect_timeout=5).close()
            return
    raise RuntimeError(log.read_text(errors="replace"))
