"""Making and opening a store, and what is said when that does not go well."""

from __future__ import annotations

import errno
import json
import os
import sqlite3
import stat
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import psycopg
import pytest
import sqlalchemy
from sqlalchemy import event

from tests.contract import ledgers
from tests.contract.ledgers import new, quiz
from trainer.errors import StoreDamaged, StoreError, StoreMissing, StoreNewer, StoreUnavailable
from trainer.store import Person, Store, Transaction, create, dialects, driver_errors, open_store
from trainer.store.schema import SCHEMA

DATA = Path(__file__).parents[2] / "data"


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = ledgers.empty(tmp_path / "data")
    yield made
    made.close()


def settled(store: Store, pragma: str) -> None:
    """Let every connection from now on run ``pragma`` first."""
    store.close()
    event.listen(store._engine, "connect", lambda driver, _: driver.execute(pragma))


def write(store: Store) -> None:
    with store.transaction() as writing:
        for _ in range(200):
            writing.append(new(quiz(), "h1"))


def test_no_store_is_missing_and_none_is_made_by_looking(tmp_path: Path) -> None:
    with pytest.raises(StoreMissing):
        open_store(ledgers.settings_in(tmp_path / "data"))
    assert list(tmp_path.iterdir()) == []


def test_an_empty_file_is_a_missing_store_that_can_be_created(tmp_path: Path) -> None:
    dialects.make_file(tmp_path)
    with pytest.raises(StoreMissing):
        open_store(ledgers.settings_in(tmp_path))
    made = ledgers.empty(tmp_path)
    assert made.verify() == []
    made.close()


def test_a_store_of_a_newer_version_is_left_alone(store: Store, tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "data" / dialects.FILE_NAME)) as raw, raw:
        raw.execute(f"UPDATE meta SET value = '{SCHEMA + 1}' WHERE name = 'schema'")
    with pytest.raises(StoreNewer, match="store-newer"):
        open_store(ledgers.settings_in(tmp_path / "data"))


def test_a_store_of_the_first_version_is_brought_forward_with_all_it_holds(tmp_path: Path) -> None:
    folder = written_by_version_1(tmp_path)
    store = open_store(ledgers.settings_in(folder))
    assert store.verify() == []
    assert store.heads()[0].hash == "429690e6652924ad880aba64344f12734078283e338c3abc04d9b3de64561ad6"
    assert store.person("h2") == Person("h2", "José Nguyễn", "es", "short service")
    assert (store.kept_heads(), store.forks(), store.doubtful()) == ((), {}, {})
    assert {column["name"] for column in sqlalchemy.inspect(store._engine).get_columns("people")} >= {"at"}
    store.close()
    # Opened again it is today's version: nothing is left to do, and records can be added.
    again = open_store(ledgers.settings_in(folder))
    with again.transaction() as writing:
        # An id of its own: the old file holds the first ones that the tests draw.
        writing.append(replace(ledgers.new(ledgers.quiz(), "h1"), record_id="00000000-0000-7000-8000-00000000aaaa"))
    assert again.verify() == []
    again.close()


def written_by_version_1(tmp_path: Path) -> Path:
    """A data folder as the first version of the schema left it."""
    folder = tmp_path / "old"
    (folder / "keys").mkdir(parents=True)
    with closing(sqlite3.connect(folder / dialects.FILE_NAME)) as raw:
        raw.executescript((DATA / "store-1.sql").read_text("utf-8"))
    for name, secret in json.loads((DATA / "store-1.keys.json").read_text("utf-8")).items():
        (folder / "keys" / name).write_bytes(bytes.fromhex(secret))
    return folder


def test_a_file_that_is_no_database_is_said_to_be_damaged(tmp_path: Path) -> None:
    (tmp_path / dialects.FILE_NAME).write_text("something else entirely, longer than a header would be " * 9)
    with pytest.raises(StoreDamaged, match="store-not-a-database"):
        open_store(ledgers.settings_in(tmp_path))


def test_a_missing_key_is_said_to_be_missing(store: Store, tmp_path: Path) -> None:
    (tmp_path / "data" / "keys" / "pepper").unlink()
    with pytest.raises(StoreDamaged, match="keys-missing"):
        open_store(ledgers.settings_in(tmp_path / "data"))


def test_a_full_disk_is_said_to_be_full_and_nothing_is_half_written(store: Store) -> None:
    settled(store, "PRAGMA max_page_count = 60")
    with pytest.raises(StoreUnavailable, match="store-full"):
        write(store)
    assert len(list(store.records())) == 2
    assert store.verify() == []


def test_a_folder_that_cannot_be_written_is_said_to_be_so_and_can_still_be_read(store: Store) -> None:
    settled(store, "PRAGMA query_only = ON")
    with pytest.raises(StoreUnavailable, match="store-read-only"):
        write(store)
    assert len(list(store.records())) == 2


def test_a_lock_that_lasts_is_said_to_be_one(store: Store, tmp_path: Path) -> None:
    settled(store, "PRAGMA busy_timeout = 1")
    with closing(sqlite3.connect(tmp_path / "data" / dialects.FILE_NAME, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreUnavailable, match="store-locked"):
            write(store)
        other.execute("ROLLBACK")
    write(store)


def test_a_mistake_of_the_program_is_not_made_to_look_like_one_of_the_disk(store: Store) -> None:
    with pytest.raises(sqlalchemy.exc.OperationalError, match="no such table"), store.transaction() as writing:
        writing._open.execute(sqlalchemy.text("SELECT * FROM absent"))


class DriverError(psycopg.Error):
    """An error with the state that a PostgreSQL server would send."""

    def __init__(self, state: str | None) -> None:
        super().__init__("a driver's words")
        self.sqlstate = state


@pytest.mark.parametrize(
    ("state", "code"),
    [
        ("53100", "store-full"),
        ("25006", "store-read-only"),
        ("55P03", "store-locked"),
        ("57P01", "store-out-of-reach"),
        ("08006", "store-out-of-reach"),
        (None, "store-out-of-reach"),
    ],
)
def test_the_other_dialects_states_are_told_apart(state: str | None, code: str) -> None:
    with pytest.raises(StoreUnavailable, match=code), driver_errors.driver_errors():
        raise sqlalchemy.exc.OperationalError("", {}, DriverError(state))


@pytest.mark.parametrize(
    ("number", "code"),
    [
        (errno.ENOSPC, "store-full"),
        (errno.EROFS, "store-read-only"),
        (errno.EACCES, "store-read-only"),
        (errno.EIO, "store-out-of-reach"),
    ],
)
def test_what_the_system_says_about_files_is_put_the_same_way(number: int, code: str, tmp_path: Path) -> None:
    with pytest.raises(StoreUnavailable, match=code), driver_errors.os_errors(tmp_path):
        raise OSError(number, "a system's words")


def test_a_url_of_something_else_is_refused(tmp_path: Path) -> None:
    with pytest.raises(StoreUnavailable, match="store-url"):
        dialects.engine(tmp_path, "mysql://somewhere/db")


@pytest.mark.parametrize("url", ["postgresql://u@h/db", "postgres://u@h/db", "postgresql+psycopg://u@h/db"])
def test_every_spelling_of_the_other_dialect_takes_the_same_driver(url: str, tmp_path: Path) -> None:
    made = dialects.engine(tmp_path, url)
    assert (made.dialect.name, made.dialect.driver) == ("postgresql", "psycopg")


def failing(writing: Transaction) -> None:
    ledgers.fill(writing)
    raise RuntimeError


@pytest.mark.parametrize("there", [(), ("a",), ("a", "a/b")], ids=["nothing", "parent", "folder"])
def test_a_store_that_fails_half_way_leaves_nothing_behind(tmp_path: Path, there: tuple[str, ...]) -> None:
    for folder in there:
        (tmp_path / folder).mkdir()
    with pytest.raises(RuntimeError):
        create(ledgers.settings_in(tmp_path / "a" / "b"), "RIG-7", failing)
    assert sorted(str(path.relative_to(tmp_path)) for path in tmp_path.rglob("*")) == list(there)
    ledgers.empty(tmp_path / "a" / "b").close()


def test_what_else_is_in_the_folder_stays(tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text("mine")
    with pytest.raises(RuntimeError):
        create(ledgers.settings_in(tmp_path), "RIG-7", failing)
    assert [path.name for path in tmp_path.iterdir()] == ["note.txt"]


def test_a_folder_where_a_file_stands_is_out_of_reach(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file")
    with pytest.raises(StoreError):
        ledgers.empty(tmp_path / "data")
    assert (tmp_path / "data").read_text() == "a file"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes")
def test_only_its_owner_reads_the_database(store: Store, tmp_path: Path) -> None:
    write(store)
    files = [path for path in (tmp_path / "data").iterdir() if path.is_file()]
    assert {stat.S_IMODE(path.stat().st_mode) for path in files} == {0o600}
    assert stat.S_IMODE((tmp_path / "data").stat().st_mode) == 0o700


@pytest.mark.parametrize(
    ("pragma", "value"), [("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("secure_delete", 1)]
)
def test_every_connection_is_made_safe(store: Store, pragma: str, value: object) -> None:
    with store._connection() as connection:
        assert connection.execute(sqlalchemy.text(f"PRAGMA {pragma}")).scalar() == value


def test_a_forgotten_name_is_in_no_file(store: Store, tmp_path: Path) -> None:
    name = "Zacharias Quill"

    def files_with_it() -> list[str]:
        files = [path for path in (tmp_path / "data").iterdir() if path.is_file()]
        return [path.name for path in files if name.encode() in path.read_bytes()]

    with store.transaction() as writing:
        writing.put_person(Person("h1", name))
    assert files_with_it()
    with store.transaction() as writing:
        writing.forget("h1")
    store.scrub()
    assert files_with_it() == []
