"""Starting the server: content checked, port free, one line said; then it runs until it is told to stop."""

from __future__ import annotations

import logging
import os
import socket
import sys
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from trainer import curriculum, words
from trainer.errors import BadContent
from trainer.settings import Settings

__all__ = ["serve"]

_LOOPBACK = ("127.0.0.1", "localhost", "::1")
_EVERYWHERE = ("0.0.0.0", "::")  # noqa: S104 - compared with, not bound to


def serve(settings: Settings, port: int = 8501, address: str = "127.0.0.1", names: Sequence[str] = ()) -> int:
    """Run the app for the site in ``settings`` until it is stopped; the exit code.

    ``names`` are those under which browsers reach it besides ``address``: that of a proxy before it.

    1 with every problem on stderr when content cannot be used, or with one line when the port is taken.
    """
    try:
        curriculum.refuse_problems(curriculum.load(settings.root, settings.app_root), serving=True)
        said = words.load(settings.root, settings.app_root)["en"]
    except BadContent as error:
        print(*error.problems, sep="\n", file=sys.stderr)
        return 1
    if not _is_free(port, address):
        print(said.say("serve.port-taken", port=port, address=address), file=sys.stderr)
        return 1
    _hand_over(settings)
    print(said.say("serve.open", address=_shown(address), port=port), flush=True)
    _run(port, address, names)
    return 0


def _is_free(port: int, address: str) -> bool:
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        if os.name != "nt":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((address, port))
        except OSError:
            return False
    return True


def _hand_over(settings: Settings) -> None:
    """Have the page script, which reads its settings from the environment, find the same ones."""
    os.environ["TRAINER_DATA"] = str(settings.data)
    os.environ["TRAINER_ROOT"] = str(settings.root)
    if settings.database_url:
        os.environ["TRAINER_DATABASE_URL"] = settings.database_url


def _shown(address: str) -> str:
    if address in _EVERYWHERE:
        return socket.gethostname()
    return f"[{address}]" if ":" in address else address


def _run(port: int, address: str, names: Sequence[str]) -> None:
    # Streamlit takes a second to import; whatever can refuse has done so before.
    from trainer.web.server import app

    logging.getLogger("uvicorn.error").addFilter(_is_worth_saying)
    try:
        app.run(config={**_settings(), "server.port": port, "server.address": address, **_hosts(address, names)})
    except KeyboardInterrupt:
        return


def _is_worth_saying(line: logging.LogRecord) -> bool:
    return line.levelno >= logging.WARNING


def _hosts(address: str, given: Sequence[str]) -> Mapping[str, Any]:
    """The names under which a browser may ask: those ``given``, and away from loopback also this machine's own."""
    names = [*_LOOPBACK, *given]
    if address in _EVERYWHERE:
        own = socket.gethostname()
        names += [own, f"{own}.local", *_own_addresses(own)]
    elif address not in names:
        names.append(address)
    return {"server.allowedHosts": names}


def _own_addresses(name: str) -> list[str]:
    try:
        return sorted({str(found[4][0]) for found in socket.getaddrinfo(name, None)})
    except OSError:
        return []


def _settings() -> dict[str, Any]:
    """Everything in .streamlit/config.toml by dotted name, wherever the command was started."""
    from trainer import settings

    path = settings.read().app_root / ".streamlit" / "config.toml"
    return dict(_dotted(tomllib.loads(path.read_text(encoding="utf-8"))))


def _dotted(tables: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    for name, value in tables.items():
        if isinstance(value, dict):
            yield from _dotted(value, f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}", value
