"""A full disk and a read-only one: a plain word for it in the actions and on the command line, and nothing lost."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.faults import rooms
from tests.faults.crew import JOBS
from trainer import settings, words

pytestmark = pytest.mark.skipif(os.name == "nt", reason="Windows has neither such limits nor such mounts")

needs_mounts = pytest.mark.skipif(not rooms.can_mount(), reason="no mounts of one's own on this machine")
needs_modes = pytest.mark.skipif(rooms.IS_ROOT, reason="modes do not bind root; a mount is tried instead")


def sentence(code: str) -> str:
    """What is said for that error, in English, as the command line says it."""
    where = settings.read()
    return words.load(where.root, where.app_root)["en"].say(f"error.{code}") + "\n"


@pytest.mark.parametrize("kind", [pytest.param("tmpfs", marks=needs_mounts), "limit"])
def test_a_full_disk(kind: str, tmp_path: Path) -> None:
    found = rooms.run(kind, tmp_path)
    # A limit on files is to the database an error of the disk like any other.
    full = {"tmpfs": {"store-full"}, "limit": {"store-full", "store-out-of-reach"}}[kind]
    assert len(found["told"]) == len(JOBS)
    assert set(found["told"]) <= full
    for command in ("roster", "backup", "bundle"):
        code, said = found["said"][command]
        assert code == 1
        assert said in map(sentence, full)
    assert found["left"] == ["site.backup"]
    require_well_again(found)


@pytest.mark.parametrize("kind", [pytest.param("mount", marks=needs_mounts), pytest.param("modes", marks=needs_modes)])
def test_a_disk_that_nobody_can_write_to(kind: str, tmp_path: Path) -> None:
    found = rooms.run(kind, tmp_path)
    assert set(found["told"]) == {"store-read-only"}
    for command in ("roster", "backup", "bundle", "init"):
        assert found["said"][command][0] == 1
        assert found["said"][command][1] == sentence("store-read-only")
    require_well_again(found)


def require_well_again(found: dict[str, object]) -> None:
    """What stood there before still stands, and once there is room every command does its work."""
    assert found["is_old"]
    assert found["again"] == {command: [0, ""] for command in ("roster", "backup", "bundle", "matrix")}
    assert found["verify"] == [0, ""]
