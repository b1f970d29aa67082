"""The mini content of tests/data/content/good, and changed copies of it."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path

from trainer.cli.check import found_in
from trainer.core.marking import Functions
from trainer.curriculum import Loaded, load

DATA = Path(__file__).parents[2] / "data" / "content"
GOOD = DATA / "good"
SHORT = "warning: content/lessons/grip.yaml:3: minutes: 6 minutes, but its words and tasks come to about "


def third(weight: float) -> float:
    """A third of ``weight``."""
    return weight / 3


def half(weight: float) -> float:
    """Half of ``weight``."""
    return weight / 2


FUNCTIONS: Functions = {"third": third, "half": half}


def copied(folder: Path, files: Mapping[str, str | bytes] = {}, without: tuple[str, ...] = ()) -> Path:
    """A copy of the good content in ``folder`` with ``files`` written over it and those of ``without`` left out."""
    root = folder / "root"
    shutil.copytree(GOOD, root)
    for name, text in files.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    for name in without:
        (root / name).unlink()
    return root


def loaded_from(root: Path) -> Loaded:
    """The content of ``root``, which stands alone."""
    return load(root, root, FUNCTIONS)


def lines_of(loaded: Loaded) -> list[str]:
    """Every problem as the command prints it, but for the one that the mini lesson, short on purpose, always has."""
    found = (f"warning: {each}" if each.is_warning else str(each) for each in found_in(loaded))
    return [each for each in found if not each.startswith(SHORT)]
