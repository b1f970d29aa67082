"""What the tests of the actions share."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.unit.actions import rig as rigs


@pytest.fixture(scope="session")
def rig_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder made once: hashing PINs takes its time."""
    folder = tmp_path_factory.mktemp("rig") / "data"
    rigs.make(folder)
    return folder


@pytest.fixture
def rig(rig_folder: Path, tmp_path: Path) -> Iterator[rigs.Rig]:
    """A small rig on a store of its own."""
    shutil.copytree(rig_folder, tmp_path / "data")
    made = rigs.opened(tmp_path / "data")
    yield made
    made.store.close()
