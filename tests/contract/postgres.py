"""A real PostgreSQL server of the tests' own: its data in a temporary folder, on a free port of loopback, ended after.

Debian's packages put the programs below /usr/lib/postgresql. A server never runs as root: as root the tests start it as
the user that the package made.
"""

from __future__ import annotations

import os
import pwd
import shutil
import signal
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
    """A server; ``database`` makes a new, empty database on it, ``crash`` and ``start`` end it and begin it again."""

    def __init__(self, bin_folder: Path, folder: Path, *, waits: bool = False) -> None:
        self.port = _free_port()
        self._bin_folder, self._folder, self._waits = bin_folder, folder, waits
        self._process: subprocess.Popen[bytes] | None = None

    def database(self) -> str:
        """The URL of a database that nobody has used before."""
        name = f"trainer_{next(_NAMES)}"
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(f'CREATE DATABASE "{name}"')
        return self.url(name)

    def url(self, name: str) -> str:
        """The URL of the database called ``name``."""
        return f"postgresql://{_USER}@127.0.0.1:{self.port}/{name}"

    def start(self) -> None:
        """Start it and wait until it answers."""
        # In the tests processes die and machines do not: what the system was given to write is written.
        fsync = f"fsync={'on' if self._waits else 'off'}"
        settings = ("listen_addresses=127.0.0.1", f"unix_socket_directories={self._folder}", fsync)
        options = [word for setting in settings for word in ("-c", setting)]
        command: tuple[str | Path, ...] = (
            self._bin_folder / "postgres",
            "-D",
            self._folder / "data",
            "-p",
            str(self.port),
            *options,
        )
        with (self._folder / "log").open("ab") as log:
            self._process = subprocess.Popen(_as_server(command), stdout=log, stderr=log, cwd=self._folder)
        _wait(self._process, self.port, self._folder / "log")

    def crash(self, how: int) -> None:
        """End it without a goodbye: SIGQUIT drops everything at once, SIGKILL leaves even that to its children."""
        assert self._process is not None
        # Its own group of processes: whoever is left of them holds the memory that the next start wants.
        children = _children(self._process.pid)
        self._process.send_signal(how)
        self._process.wait(timeout=60)
        for child in children:
            with suppress(ProcessLookupError):
                os.kill(child, signal.SIGKILL)

    def stop(self) -> None:
        """End it the polite way."""
        if self._process is not None:
            # Fast: whoever is still connected is sent away.
            self._process.send_signal(signal.SIGINT)
            self._process.wait(timeout=120)


@contextmanager
def server(*, waits: bool = False) -> Iterator[Server]:
    """A server for as long as the block lasts; with ``waits`` a commit waits for the disk.

    Raises ``RuntimeError`` with what it said where it does not start.
    """
    bin_folder = programs()
    if bin_folder is None:
        raise RuntimeError("no PostgreSQL on this machine")
    # Not below pytest's own folder: that is closed to every other user.
    folder = Path(tempfile.mkdtemp(prefix="trainer-postgres-"))
    made = Server(bin_folder, folder, waits=waits)
    try:
        _make_data(bin_folder, folder)
        made.start()
        yield made
    finally:
        made.stop()
        shutil.rmtree(folder, ignore_errors=True)


def _make_data(bin_folder: Path, folder: Path) -> None:
    if os.geteuid() == 0:
        account = pwd.getpwnam(_USER)
        os.chown(folder, account.pw_uid, account.pw_gid)
    # A locale with an order of letters of its own: what the store sorts must not follow it.
    locale = ("-E", "UTF8", "--locale=C.UTF-8", "--locale-provider=icu", "--icu-locale=en-US")
    initdb = (bin_folder / "initdb", "-D", folder / "data", "-U", _USER, "--auth=trust", "--no-sync", *locale)
    subprocess.run(_as_server(initdb), check=True, capture_output=True, cwd=folder)


def _children(pid: int) -> list[int]:
    """The processes that ``pid`` has started and that still run."""
    found = Path(f"/proc/{pid}/task/{pid}/children")
    return [int(each) for each in found.read_text().split()] if found.exists() else []


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
