"""One bit turned anywhere: in a column of the ledger, in the database's file, in a bundle, in a backup. It is found."""

from __future__ import annotations

import random
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy.exc import DBAPIError

from tests.contract import ledgers
from tests.contract.conftest import DIALECTS, made_place
from tests.contract.ledgers import AT, new, quiz
from tests.contract.test_store_tampering import Raw, flips
from tests.unit.actions.rig import START
from trainer import clock
from trainer.actions.keeping import restore
from trainer.core.records import Joined
from trainer.errors import BadInput, TrainerError
from trainer.settings import Settings
from trainer.store import Person, Store, create, keys_in, open_store, pack, unpack
from trainer.store.dialects import FILE_NAME
from trainer.store.schema import ALL, aside, doubts, evidence, forks, heads, kept_heads, records, stays, voids

LEDGER = (records, heads, evidence, stays, voids, kept_heads, aside, forks, doubts)
LEDGER_NAMES = tuple(each.name for each in LEDGER)
CELLS, IN_FILES = 250, 60
"""How many bits are turned with every change; ``--full`` turns each one of the ledger and many of the files."""

IN_FILES_IN_FULL = 1500


def other_rig(folder: Path, hand: str, at: str = AT, name: str = "RIG-9") -> Store:
    """A rig from elsewhere; two with one name are two chains of one site."""
    store = create(ledgers.settings_in(folder), name, ledgers.fill)
    with store.transaction() as writing:
        writing.put_person(Person(hand, hand.title()))
        writing.append(new(Joined("day-1", "floorhand"), hand, at=at))
        writing.append(new(quiz(), hand, at=at))
    return store


def full_of_everything(place: Settings, folder: Path) -> Store:
    """A store with rows in every table of the ledger: a fork, a doubtful clock, kept heads, voids, texts."""
    store = ledgers.empty_at(place)
    ledgers.lively(store)
    ahead = clock.stamp(START + timedelta(days=9))
    visitors = (
        other_rig(folder / "one", "ned"),
        other_rig(folder / "other", "max"),
        other_rig(folder / "third", "liv", ahead, "RIG-5"),
    )
    for other in visitors:
        given = unpack(pack(other.bundle(AT), other.keys))
        with store.transaction() as writing:
            writing.merge(given, START)
            writing.keep_text(f"said of {other.site}", "h1")
        other.close()
    with store.transaction() as writing:
        writing.keep_head(store.signed_head())
    assert store.verify() == []
    return store


@dataclass(frozen=True)
class Cell:
    """One value of the ledger with one bit turned; ``row`` is the whole row as it was, by column."""

    table: str
    row: dict[str, Any]
    column: str
    turned: object


def cells(raw: Raw) -> list[Cell]:
    """Every bit that can be turned in any column of any row of the ledger."""
    found = []
    for table in LEDGER:
        names = [column.name for column in table.columns]
        quoted = ", ".join(f'"{name}"' for name in names)
        for values in raw.run(f"SELECT {quoted} FROM {table.name}"):
            row = dict(zip(names, values, strict=True))
            found += [Cell(table.name, row, name, bit) for name in names for bit in flips(row[name])]
    return found


def write(raw: Raw, table: str, was: dict[str, Any], now: dict[str, Any]) -> None:
    """Have ``table`` hold the row ``now`` instead of the row ``was``."""
    where = " AND ".join(f'"{name}" IS NOT DISTINCT FROM :w_{name}' for name in was)
    sets = ", ".join(f'"{name}" = :{name}' for name in now)
    raw.run(f"UPDATE {table} SET {sets} WHERE {where}", **now, **{f"w_{name}": value for name, value in was.items()})


@pytest.mark.parametrize("dialect", DIALECTS)
def test_a_bit_in_any_column_of_any_table_of_the_ledger(
    dialect: str, request: pytest.FixtureRequest, tmp_path: Path, is_full: bool
) -> None:
    request.param = dialect
    store = full_of_everything(made_place(request, tmp_path / "data"), tmp_path)
    raw = Raw(store)
    raw.unguard()
    every = cells(raw)
    assert {cell.table for cell in every} == {table.name for table in LEDGER}
    chosen = every if is_full else some_of_each_column(every)
    missed = [cell for cell in chosen if not is_found(store, raw, cell)]
    assert missed == []
    assert store.verify() == []
    raw.engine.dispose()
    store.close()


def some_of_each_column(every: list[Cell]) -> list[Cell]:
    """So many of them by chance, and of each column one at least."""
    mixed = random.Random(7).sample(every, len(every))
    first = {(cell.table, cell.column): cell for cell in mixed}
    return [*first.values(), *mixed[:CELLS]]


def is_found(store: Store, raw: Raw, cell: Cell) -> bool:
    """Whether verify sees the bit, or the database itself does not take it; everything is as before afterwards."""
    changed = {**cell.row, cell.column: cell.turned}
    try:
        write(raw, cell.table, cell.row, changed)
    except DBAPIError:
        return True
    try:
        return store.verify() != []
    finally:
        write(raw, cell.table, changed, cell.row)


def flipped(data: bytes, chance: random.Random) -> tuple[int, bytes]:
    """``data`` with one bit turned, and where."""
    place = chance.randrange(len(data) * 8)
    changed = bytearray(data)
    changed[place // 8] ^= 1 << place % 8
    return place // 8, bytes(changed)


@dataclass(frozen=True)
class Files:
    """One store as files: its data folder, a bundle of it, a backup of it, and what its ledger holds."""

    place: Settings
    database: bytes
    bundle: bytes
    backup: bytes
    rows: dict[str, list[tuple[Any, ...]]]


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Files:
    """A store with everything in it, closed."""
    folder = tmp_path_factory.mktemp("files")
    place = ledgers.settings_in(folder / "data")
    store = full_of_everything(place, folder)
    store.backup(keys_in(place), folder / "backup", AT)
    bundle = pack(store.bundle(AT), store.keys)
    store.close()
    # Closed by the last one, the file is whole: nothing of it is in a log beside it.
    database = (place.data / FILE_NAME).read_bytes()
    return Files(place, database, bundle, (folder / "backup").read_bytes(), rows_in(place.data / FILE_NAME))


def rows_in(path: Path, tables: tuple[str, ...] = LEDGER_NAMES) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of those tables, read without the app."""
    with closing(sqlite3.connect(path)) as raw:
        return {table: sorted(raw.execute(f"SELECT * FROM {table}"), key=repr) for table in tables}


def times(is_full: bool) -> range:
    return range(IN_FILES_IN_FULL if is_full else IN_FILES)


def test_a_bit_in_the_file_of_the_database(files: Files, is_full: bool) -> None:
    chance = random.Random(11)
    path = files.place.data / FILE_NAME
    for _ in times(is_full):
        place, changed = flipped(files.database, chance)
        path.write_bytes(changed)
        # Free space and what is not of the ledger may change; then every row of the ledger is as it was.
        assert is_file_damaged(files.place) or rows_in(path) == files.rows, place
        for beside in (path, *(path.with_name(path.name + end) for end in ("-wal", "-shm"))):
            beside.unlink(missing_ok=True)
    path.write_bytes(files.database)
    assert not is_file_damaged(files.place)


def is_file_damaged(place: Settings) -> bool:
    """Whether opening or verify says that something is wrong, in words that the app has for it."""
    try:
        with closing(open_store(place)) as store:
            return store.verify() != []
    except TrainerError:
        return True


def test_a_bit_in_a_bundle(files: Files, is_full: bool) -> None:
    chance = random.Random(13)
    whole = unpack(files.bundle)
    for _ in times(is_full):
        place, changed = flipped(files.bundle, chance)
        try:
            # What is refused was found; a bit of the wrapping that says nothing leaves all within it as it was.
            assert unpack(changed) == whole, place
        except BadInput:
            continue


def test_a_bit_in_a_backup_makes_no_site_or_the_very_same(files: Files, tmp_path: Path, is_full: bool) -> None:
    chance = random.Random(17)
    tables = tuple(table.name for table in ALL.sorted_tables if table.name not in ("sessions", "tickets"))
    given, refused = tmp_path / "given", 0
    whole = restored(files.backup, given, tmp_path / "whole", tables)
    for number in times(is_full):
        place, changed = flipped(files.backup, chance)
        folder = tmp_path / f"to-{number}"
        try:
            assert restored(changed, given, folder, tables) == whole, place
        except TrainerError:
            refused += 1
            assert not folder.exists(), place
    assert refused


def restored(data: bytes, given: Path, folder: Path, tables: tuple[str, ...]) -> dict[str, list[tuple[Any, ...]]]:
    """What the site holds that the backup ``data`` makes, keys too. Raises ``TrainerError`` for one that is refused."""
    given.write_bytes(data)
    restore(ledgers.settings_in(folder), given)
    secrets = sorted((each.name, each.read_bytes()) for each in (folder / "keys").iterdir())
    return {**rows_in(folder / FILE_NAME, tables), "keys": secrets}
