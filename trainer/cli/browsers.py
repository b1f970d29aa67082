"""Finds a browser, pdftotext, PostgreSQL and nginx for the tests, or installs Debian's where that can be done."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

__all__ = ["can_install", "find_browser", "find_nginx", "find_pdftotext", "has_postgresql", "install", "lacking"]

_COMMANDS = (
    "chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "microsoft-edge",
    "microsoft-edge-stable", "msedge",
)  # fmt: skip
# A machine without any font draws boxes for what the bundled one lacks.
_BROWSER = ("chromium", "fonts-dejavu-core")
_PDFTOTEXT = ("poppler-utils",)
_POSTGRESQL = ("postgresql",)
_NGINX = ("nginx-light",)
_SBIN = ("/usr/sbin", "/usr/local/sbin")
_APPLICATIONS = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)
_WINDOWS = (
    "Google/Chrome/Application/chrome.exe", "Chromium/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe",
)  # fmt: skip


def find_browser() -> Path | None:
    """The browser's program: the one that ``TRAINER_BROWSER`` names, else the first found; ``None`` without any."""
    named = os.environ.get("TRAINER_BROWSER")
    found = [named] if named else [shutil.which(command) for command in _COMMANDS]
    installed = [Path(each) for each in (*found, *_installed_apps()) if each]
    return next((each for each in installed if each.exists()), None)


def find_pdftotext() -> Path | None:
    """The program that reads the text of printed sheets back; ``None`` without it."""
    found = shutil.which("pdftotext")
    return Path(found) if found else None


def find_nginx() -> Path | None:
    """nginx, which stands before several app processes; ``None`` without it."""
    # Not everybody has the folder of such programs on the path.
    found = shutil.which("nginx", path=os.pathsep.join((os.environ.get("PATH", ""), *_SBIN)))
    return Path(found) if found else None


def has_postgresql() -> bool:
    """Whether there is a PostgreSQL that the tests can start a server of their own with."""
    return shutil.which("initdb") is not None or any(Path("/usr/lib/postgresql").glob("*/bin/initdb"))


def _installed_apps() -> list[str]:
    """Where macOS and Windows put browsers that are not on the path."""
    folders = [os.environ.get(name) for name in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")]
    return [*_APPLICATIONS, *(str(Path(folder) / each) for folder in folders if folder for each in _WINDOWS)]


def can_install() -> bool:
    """Whether this is Debian or one of its kind, and we may install packages."""
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    return is_root and Path("/etc/debian_version").exists() and shutil.which("apt-get") is not None


def lacking() -> tuple[str, ...]:
    """Debian's packages for what the tests need and do not find here."""
    wanted = (
        (find_browser(), _BROWSER), (find_pdftotext(), _PDFTOTEXT), (has_postgresql(), _POSTGRESQL),
        (find_nginx(), _NGINX),
    )  # fmt: skip
    return tuple(package for is_there, packages in wanted if not is_there for package in packages)


def install(packages: Sequence[str]) -> None:
    """Install these of Debian's packages; whether that worked is for ``find_browser`` and its like to say."""
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for arguments in (("update", "-q"), ("install", "-y", "-q", "--no-install-recommends", *packages)):
        subprocess.run(["apt-get", *arguments], env=environment, check=False)
