"""Where things are: the data folder, the database, the content. Read once, at the edge."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

import platformdirs

__all__ = ["APP_NAME", "Settings", "read"]

APP_NAME = "slips-trainer"
"""The folder's name inside the platform's user data folder."""


@dataclass(frozen=True, slots=True)
class Settings:
    """Where things are.

    ``data`` holds the database and the keys; ``database_url`` names a PostgreSQL database instead of the file there;
    ``root`` holds content/, quizzes/ and assets/; ``app_root`` is the app's own folder, for what ``root`` lacks.
    Without ``durable`` nothing waits for the disk: only for data that is made again when the power fails meanwhile.
    ``demo_pin`` is the PIN of everybody on the made-up rig, shown where they sign in; empty on any other site.
    """

    data: Path
    database_url: str | None
    root: Path
    app_root: Path
    durable: bool = True
    demo_pin: str = ""


def read(data: Path | None = None) -> Settings:
    """The settings from ``data`` and the environment: ``TRAINER_DATA``, ``TRAINER_DATABASE_URL``, ``TRAINER_ROOT``,
    and ``TRAINER_DEMO_PIN``, which the command ``demo`` sets.

    What is not given: the platform's user data folder, no URL, the app's own folder. Nothing is read or made there.
    """
    app_root = Path(__file__).resolve().parent.parent
    folder = data or _path("TRAINER_DATA") or platformdirs.user_data_path(APP_NAME, appauthor=False)
    root = _path("TRAINER_ROOT") or app_root
    return Settings(
        data=folder.absolute(),
        database_url=os.environ.get("TRAINER_DATABASE_URL") or None,
        root=root.absolute(),
        app_root=app_root,
        demo_pin=os.environ.get("TRAINER_DEMO_PIN", ""),
    )


def _path(variable: str) -> Path | None:
    value = os.environ.get(variable)
    return Path(value).expanduser() if value else None
