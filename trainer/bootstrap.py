"""The first start: packages into ``.venv`` beside requirements.txt, once; every later start goes straight through it.

Standard library only. Everything said here goes to stderr, so that a result on stdout stays clean.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

__all__ = ["Place", "SetupError", "ensure", "is_ready", "run"]

_NO_NETWORK = (
    "NewConnectionError",
    "NameResolutionError",
    "Name or service not known",
    "Temporary failure in name resolution",
    "Network is unreachable",
    "ConnectTimeout",
    "Read timed out",
    "getaddrinfo failed",
    "ProxyError",
    "Cannot connect to proxy",
)
_STEP = 10


class SetupError(Exception):
    """Why the packages could not be set up, in one line that says what to do."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the program stands: the folder that holds requirements.txt, and ``.venv`` in it."""

    root: Path

    @property
    def requirements(self) -> Path:
        return self.root / "requirements.txt"

    @property
    def venv(self) -> Path:
        return self.root / ".venv"

    @property
    def python(self) -> Path:
        """The interpreter inside ``.venv``."""
        return self.venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

    @property
    def stamp(self) -> Path:
        """Written last: holds what was installed, so that a half-installed ``.venv`` has none."""
        return self.venv / "installed"

    @property
    def lock(self) -> Path:
        return self.venv / "lock"


def run(arguments: Sequence[str]) -> int:
    """The exit code of the command, run in ``.venv``; 1 with one line where that cannot be set up."""
    place = Place(Path(__file__).resolve().parent.parent)
    # Help is text only: nobody waits minutes to read it.
    if not is_ready(place) and not _asks_for_help(arguments):
        try:
            ensure(place)
        except SetupError as error:
            _say(str(error))
            return 1
        except KeyboardInterrupt:
            _say("Stopped. The next start goes on from here.")
            return 1
    if _is_inside(place) or not is_ready(place):
        from trainer.cli import main

        return main(arguments)
    return _hand_over(place, arguments)


def _asks_for_help(arguments: Sequence[str]) -> bool:
    return not arguments or "--help" in arguments or "-h" in arguments


def _is_inside(place: Place) -> bool:
    return Path(sys.prefix).resolve() == place.venv.resolve()


def is_ready(place: Place) -> bool:
    """Whether ``.venv`` holds exactly what requirements.txt names, for a Python that is still there."""
    try:
        digest, version = place.stamp.read_text(encoding="utf-8").split()
    except (OSError, ValueError):
        return False
    if digest != _digest(place) or not place.python.exists():
        return False
    # Where another Python than the one of .venv starts it, ask that one: the system may have replaced it.
    return version == _version() or version == _version_of(place.python)


def _digest(place: Place) -> str:
    return hashlib.sha256(place.requirements.read_bytes()).hexdigest()


def _version() -> str:
    return f"{sys.version_info[0]}.{sys.version_info[1]}"


def _version_of(python: Path) -> str:
    asked = [str(python), "-c", "import sys; print('%d.%d' % sys.version_info[:2])"]
    try:
        return subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()
    except (OSError, subprocess.CalledProcessError):
        return ""


def ensure(place: Place) -> None:
    """Make ``.venv`` ready, or wait until another start has; raises ``SetupError`` with one line."""
    _require_venv_module()
    try:
        place.venv.mkdir(exist_ok=True)
        lock = place.lock.open("a+b")
    except OSError as error:
        raise SetupError(
            f"Cannot write in {place.venv} ({error.strerror}). Copy the program to a folder of your own, "
            "or make this one writable, then start again."
        ) from None
    try:
        with lock, _locked(lock):
            if not is_ready(place):
                _set_up(place)
    except OSError as error:
        raise SetupError(f"Could not set up {place.venv}: {error}. Mend that, then start again.") from None


def _require_venv_module() -> None:
    missing = [name for name in ("venv", "ensurepip") if importlib.util.find_spec(name) is None]
    if missing:
        raise SetupError(
            f"This Python has no {missing[0]} module. On Debian or Ubuntu: sudo apt-get install "
            f"python{_version()}-venv (or python3-venv); elsewhere install Python from python.org. Then start again."
        )


@contextmanager
def _locked(lock: IO[bytes]) -> Iterator[None]:
    """Hold the lock until its file is closed: of two starts at once one installs, the other waits. A crash frees it."""
    if sys.platform == "win32":
        import msvcrt

        waiting = True
        while waiting:
            with suppress(OSError):  # it gives up after ten seconds
                msvcrt.locking(lock.fileno(), msvcrt.LK_LOCK, 1)
                waiting = False
        yield
    else:
        import fcntl

        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            _say("Another start is setting up; waiting for it …")
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _set_up(place: Place) -> None:
    """Install everything, and the stamp last. What a stopped set-up left behind is cleared first."""
    is_upgrade = place.stamp.exists() and place.python.exists() and _version_of(place.python) == _version()
    names = _packages(place)
    _say(f"Setting up, once: {len(names)} packages into {place.venv}, about 2 minutes and 1 GB. It needs the network.")
    place.stamp.unlink(missing_ok=True)
    if not is_upgrade:
        _clear(place)
        _say("Step 1 of 3: a Python of its own …")
        _make_venv(place)
    _install(place, len(names))
    place.stamp.write_text(f"{_digest(place)} {_version()}\n", encoding="utf-8")
    _say("Ready.")


def _packages(place: Place) -> list[str]:
    lines = (line.partition("#")[0].strip() for line in place.requirements.read_text(encoding="utf-8").splitlines())
    return [line for line in lines if line]


def _clear(place: Place) -> None:
    """Empty ``.venv`` but for the lock that is held."""
    for each in place.venv.iterdir():
        if each.is_dir() and not each.is_symlink():
            shutil.rmtree(each)
        elif each != place.lock:
            each.unlink()


def _make_venv(place: Place) -> None:
    made = subprocess.run(
        [sys.executable, "-m", "venv", str(place.venv)], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    if made.returncode:
        raise SetupError(f"Could not make {place.venv}: {_last_line(made.stdout)}")


def _install(place: Place, count: int) -> None:
    """Run pip and tell how far it is; raises ``SetupError`` with its reason."""
    command = [str(place.python), "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
    command += ["--only-binary=:all:", "--retries=2", "--timeout=20", "--progress-bar=off"]
    environment = {**os.environ, "PIP_USER": "0", "PYTHONIOENCODING": "utf-8"}
    _say(f"Step 2 of 3: fetching {count} packages …")
    output: list[str] = []
    with subprocess.Popen(
        [*command, "-r", str(place.requirements)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=environment,
        encoding="utf-8",
        errors="replace",
    ) as pip:
        assert pip.stdout is not None
        for line in pip.stdout:
            output.append(line)
            _tell(line, output, count)
    if pip.returncode:
        raise SetupError(_why(output))


def _tell(line: str, output: Sequence[str], count: int) -> None:
    """Say a progress line for what pip has just said, every so many packages."""
    if line.startswith(("Collecting ", "Requirement already satisfied")):
        done = sum(each.startswith(("Collecting ", "Requirement already satisfied")) for each in output)
        if done % _STEP == 0 and done <= count:
            _say(f"  {done} of {count}")
    elif line.startswith("Installing collected packages"):
        _say("Step 3 of 3: installing them, about a minute …")


def _why(output: Sequence[str]) -> str:
    """One line that says why pip failed and what to do."""
    text = "".join(output)
    if any(sign in text for sign in _NO_NETWORK):
        return (
            "Could not fetch the packages: no way to the package index. Connect this computer to the network "
            "(behind a proxy set HTTPS_PROXY, or name your own index in PIP_INDEX_URL), then start again."
        )
    if "No space left on device" in text:
        return "Could not install the packages: the disk is full. Free about 1 GB, then start again."
    errors = [line.strip() for line in output if line.startswith("ERROR:")]
    reason = errors[0].removeprefix("ERROR:").strip() if errors else _last_line(text)
    return f"Could not install the packages: {reason} - start again; if it stays, tell who keeps this program."


def _last_line(text: str) -> str:
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return lines[-1] if lines else "no reason given"


def _hand_over(place: Place, arguments: Sequence[str]) -> int:
    """Go on as the Python of ``.venv``; on Windows as its parent, because there exec gives the prompt back early."""
    command = [str(place.python), "-m", "trainer", *arguments]
    if os.name != "nt":
        sys.stdout.flush()
        sys.stderr.flush()
        os.execv(command[0], command)
    with subprocess.Popen(command) as child:
        # Ctrl+C reaches both; the child decides what it means.
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        return child.wait()


def _say(line: str) -> None:
    sys.stderr.write(line + "\n")
    sys.stderr.flush()
