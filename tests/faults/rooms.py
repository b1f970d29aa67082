"""A disk that is full, a folder that cannot be written: real ones, made for one subprocess and gone with it.

As root, and for anybody where the system allows it, ``unshare`` gives the subprocess mounts of its own that no one
else sees. A size limit on files stands in for a full disk wherever there are such limits.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any

__all__ = ["IS_ROOT", "can_mount", "run"]

ROOT = Path(__file__).resolve().parents[2]
IS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0
MOUNTS = ("unshare", "--mount") if IS_ROOT else ("unshare", "--map-root-user", "--mount")


@cache
def can_mount() -> bool:
    """Whether a subprocess may have mounts of its own here."""
    if shutil.which("unshare") is None:
        return False
    tried = subprocess.run([*MOUNTS, "mount", "-t", "tmpfs", "tmpfs", "/mnt"], capture_output=True, check=False)
    return tried.returncode == 0


def run(kind: str, folder: Path) -> dict[str, Any]:
    """What ``full_disk`` finds on a disk of that kind in ``folder``, in a process of its own."""
    mounts = MOUNTS if kind in ("tmpfs", "mount") else ()
    inside = [*mounts, sys.executable, "-m", "tests.faults.full_disk", kind, str(folder)]
    kept = {name: value for name, value in os.environ.items() if not name.startswith("TRAINER_")}
    surroundings = {**kept, "PYTHONPATH": str(ROOT), "TRAINER_NOW": "2026-03-02T14:00:00Z"}
    done = subprocess.run(
        inside, cwd=ROOT, env=surroundings, capture_output=True, encoding="utf-8", timeout=600, check=False
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found
