"""Runs in a process of its own: people at work on a disk that gets full or read-only, what they are told, and after."""

from __future__ import annotations

import contextlib
import io
import json
import os
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path

from tests.faults import crew
from tests.faults.crew import JOBS, Ack, rig_on
from tests.faults.ledger_checks import looked_at
from trainer import curriculum, settings
from trainer.cli import main
from trainer.errors import StoreUnavailable
from trainer.settings import Settings
from trainer.store import Store, open_store

LAST_WEEK = b"the one of last week"


@contextmanager
def full(disk: Path, room: int) -> Iterator[None]:
    """The disk full but for ``room`` bytes while the block lasts, by a file that takes the rest."""
    ballast = disk / "ballast"
    with ballast.open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while True:
            file.write(b"\0" * 4096)
    os.truncate(ballast, ballast.stat().st_size - room)
    try:
        yield
    finally:
        ballast.unlink()


@contextmanager
def limited(_: Path, room: int) -> Iterator[None]:
    """No file of this process may grow beyond ``room`` bytes while the block lasts."""
    most = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, most))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))


def work(store: Store, known: list[Ack], most: int) -> list[str]:
    """What each of the crew is told who is kept from his work; what was acknowledged goes to ``known``."""
    told = []
    for actor, job in JOBS.values():
        try:
            for _ in range(most):
                known.extend(job(rig_on(store, actor)))
        except StoreUnavailable as error:
            told.append(error.code)
    return told


def said(place: Settings, *words: str) -> list[object]:
    """The exit code of a command, and what it says on stderr."""
    out, err = io.TextIOWrapper(io.BytesIO(), "utf-8"), io.StringIO()
    sys.stdin = io.StringIO("739154\n")
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(["--data", str(place.data), *words])
    return [code, err.getvalue()]


def commands(place: Settings, outside: Path) -> dict[str, list[object]]:
    """Every command that writes, and what each says; ``outside`` is a folder on the same disk."""
    roster = outside.parent.parent / "people.csv"
    return {
        "roster": said(place, "roster", str(roster)),
        "backup": said(place, "backup", str(outside / "site.backup")),
        "bundle": said(place, "bundle", str(outside / "site.bundle")),
        "matrix": said(place, "matrix", "--format", "csv", "--out", str(outside / "matrix.csv")),
    }


def begun(disk: Path) -> tuple[Settings, Store, list[Ack]]:
    """A site on ``disk`` where everybody has done something, the store open, and what was acknowledged."""
    people = [f"h{number},Name {number},floorhand,day-1,2026-01-05,,en\n" for number in range(200)]
    header = "hand_id,name,position,crew,joined,left,language\n"
    (disk.parent / "people.csv").write_text(header + "".join(people), "utf-8")
    (disk / "outside").mkdir()
    (disk / "outside" / "site.backup").write_bytes(LAST_WEEK)
    where = settings.read(disk / "data")
    crew.make(where, curriculum.load(where.root, where.app_root).site_data)
    known: list[Ack] = []
    store = open_store(where)
    assert work(store, known, 1) == []
    return where, store, known


def tried(disk: Path, is_full: Callable[[Path, int], contextlib.AbstractContextManager[None]]) -> dict[str, object]:
    """Everything that was said while there was no room, after it was seen that nothing was lost and all works again."""
    place, store, known = begun(disk)
    outside = disk / "outside"
    # Room for a few more steps, so that it ends in the middle of one.
    with is_full(disk, 100 * 1024):
        told = work(store, known, 100)
        looked_at(place, known)
    store.close()
    with is_full(disk, 0):
        spoken = commands(place, outside)
        left = sorted(each.name for each in outside.iterdir())
    is_old = (outside / "site.backup").read_bytes() == LAST_WEEK
    looked_at(place, known)
    with closing(open_store(place)) as store:
        assert work(store, known, 1) == []
    looked_at(place, known)
    found = {"told": told, "said": spoken, "left": left, "is_old": is_old}
    return {**found, "again": commands(place, outside), "verify": said(place, "verify")}


@contextmanager
def read_only(disk: Path) -> Iterator[None]:
    """The disk mounted so that nobody, root neither, can write to it, while the block lasts."""
    subprocess.run(["mount", "--bind", str(disk), str(disk)], check=True)
    subprocess.run(["mount", "-o", "remount,bind,ro", str(disk)], check=True)
    try:
        yield
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@contextmanager
def without_rights(disk: Path) -> Iterator[None]:
    """The same by the modes of the files, which bind everybody but root."""
    inside = [disk, *disk.rglob("*")]
    modes = [path.stat().st_mode for path in inside]
    for path in reversed(inside):
        path.chmod(path.stat().st_mode & ~0o222)
    try:
        yield
    finally:
        for path, mode in zip(inside, modes, strict=True):
            path.chmod(mode)


def shut(disk: Path, is_shut: Callable[[Path], contextlib.AbstractContextManager[None]]) -> dict[str, object]:
    """What was said while nothing could be written, to whoever had the store open and to whoever opens it."""
    place, store, known = begun(disk)
    store.close()
    with is_shut(disk):
        try:
            with closing(open_store(place)) as opened:
                told = work(opened, known, 1)
        except StoreUnavailable as error:
            told = [error.code]
        spoken = commands(place, disk / "outside")
        made = said(replace(place, data=disk / "new"), "init", "--site", "rig-2", "--tz", "America/Chicago")
    is_old = (disk / "outside" / "site.backup").read_bytes() == LAST_WEEK
    looked_at(place, known)
    with closing(open_store(place)) as store:
        assert work(store, known, 1) == []
    looked_at(place, known)
    found = {"told": told, "said": {**spoken, "init": made}, "is_old": is_old}
    return {**found, "again": commands(place, disk / "outside"), "verify": said(place, "verify")}


_KINDS: Mapping[str, Callable[[Path], dict[str, object]]] = {
    "tmpfs": lambda disk: tried(disk, full),
    "limit": lambda disk: tried(disk, limited),
    "mount": lambda disk: shut(disk, read_only),
    "modes": lambda disk: shut(disk, without_rights),
}


def main_of(kind: str, folder: Path) -> None:
    """Print what was found, for the test outside."""
    disk = folder / "disk"
    disk.mkdir()
    if kind == "tmpfs":
        subprocess.run(["mount", "-t", "tmpfs", "-o", "size=6m,mode=0700", "tmpfs", str(disk)], check=True)
    print(json.dumps(_KINDS[kind](disk)))


if __name__ == "__main__":
    main_of(sys.argv[1], Path(sys.argv[2]))
