"""Where SQLite and PostgreSQL differ: opening, locking, triggers, scrubbing.

Both pass one contract test; nothing outside this module, ``appending`` and ``driver_errors`` asks which one it is.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cached_property
from pathlib import Path
from typing import Any, cast

import psycopg
from psycopg.adapt import Transformer
from psycopg.errors import error_from_result
from psycopg.pq import ExecStatus
from sqlalchemy import Connection, Engine, PoolProxiedConnection, create_engine, event, text

from trainer.errors import StoreUnavailable
from trainer.store.driver_errors import driver_errors, os_errors

__all__ = [
    "FILE_NAME", "Driver", "Held", "engine", "guard_records", "is_file", "locked", "make_file", "make_folder",
    "reading_damaged", "scrub", "unmake", "writing",
]  # fmt: skip

FILE_NAME = "trainer.sqlite3"
"""The database's name in the data folder."""

Driver = sqlite3.Connection | psycopg.Connection[Any]

BUSY_SECONDS = 10
_WRITING = "trainer_writing"
_WRITERS = "trainer_writers"

# One writer at a time, as a file has it: whoever reads before he writes reads what the one before him wrote. The lock
# is the database's own, so that every process on it stands in the same line; its number is one that nobody else takes.
# What is read after the lock was given must be what the writer before has committed.
_POSTGRESQL_BEGIN = ("BEGIN ISOLATION LEVEL READ COMMITTED", "SELECT pg_advisory_xact_lock(7325081449702)")
_POSTGRESQL_WRITER = f"SET lock_timeout = '{BUSY_SECONDS}s'"

# A computer that lost its power says no goodbye: without this the server would keep its lock for hours.
_POSTGRESQL_CONNECT = (
    "SET tcp_keepalives_idle = 20",
    "SET tcp_keepalives_interval = 5",
    "SET tcp_keepalives_count = 4",
)

_PRAGMAS = (
    "PRAGMA journal_mode=WAL",
    "PRAGMA synchronous=FULL",
    "PRAGMA foreign_keys=ON",
    "PRAGMA secure_delete=ON",
)

_SQLITE_TRIGGERS = tuple(
    f"CREATE TRIGGER IF NOT EXISTS records_no_{what.lower()} BEFORE {what} ON records "
    "BEGIN SELECT RAISE(ABORT, 'records are never changed'); END"
    for what in ("UPDATE", "DELETE")
)

_POSTGRESQL_TRIGGERS = (
    """CREATE OR REPLACE FUNCTION records_refuse() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION 'records are never changed'; END $$""",
    """CREATE OR REPLACE TRIGGER records_no_change BEFORE UPDATE OR DELETE ON records
    FOR EACH ROW EXECUTE FUNCTION records_refuse()""",
    """CREATE OR REPLACE TRIGGER records_no_truncate BEFORE TRUNCATE ON records
    FOR EACH STATEMENT EXECUTE FUNCTION records_refuse()""",
)


def engine(folder: Path, database_url: str | None, *, durable: bool = True) -> Engine:
    """An engine for the database in ``folder``, or for the one that ``database_url`` names; nothing is opened yet.

    Without ``durable`` a file's commits do not wait for the disk.
    """
    if database_url is None:
        return _sqlite(folder / FILE_NAME, durable=durable)
    scheme, _, rest = database_url.partition("://")
    if scheme not in ("postgresql", "postgres", "postgresql+psycopg"):
        raise StoreUnavailable("store-url", scheme=scheme)
    return _server(f"postgresql+psycopg://{rest}")


def _server(url: str) -> Engine:
    # Writers have connections of their own, on which the driver begins nothing and asks nothing by itself: their
    # first question is the lock, and whether the server is still there shows with that.
    writers = create_engine(url, isolation_level="AUTOCOMMIT", pool_size=5, max_overflow=5, pool_timeout=BUSY_SECONDS)
    event.listen(writers, "connect", _on_server_connect)
    event.listen(writers, "connect", _on_writer_connect)
    made = create_engine(url, isolation_level="REPEATABLE READ", pool_pre_ping=True)
    event.listen(made, "connect", _on_server_connect)
    _write_through(made, writers)
    return made


def _on_server_connect(connection: psycopg.Connection[Any], _entry: object) -> None:
    for setting in _POSTGRESQL_CONNECT:
        connection.execute(setting)
    connection.commit()


def _on_writer_connect(connection: psycopg.Connection[Any], _entry: object) -> None:
    connection.execute(_POSTGRESQL_WRITER)
    connection.commit()


def is_file(database_url: str | None) -> bool:
    """Whether the database is a file in the data folder."""
    return database_url is None


def _sqlite(path: Path, *, durable: bool) -> Engine:
    made = create_engine(
        f"sqlite:///{path}", connect_args={"timeout": BUSY_SECONDS}, pool_size=8, max_overflow=32, pool_timeout=10
    )
    event.listen(made, "connect", _on_connect)
    if not durable:
        event.listen(made, "connect", _without_waiting)
    event.listen(made, "begin", _on_begin)
    _write_through(made, made.execution_options(**{_WRITING: True}))
    return made


def _on_connect(connection: sqlite3.Connection, _entry: object) -> None:
    # The driver's own transactions begin at the first write and not at the first read; ours begin in _on_begin.
    connection.isolation_level = None
    for pragma in _PRAGMAS:
        connection.execute(pragma)


def _without_waiting(connection: sqlite3.Connection, _entry: object) -> None:
    connection.execute("PRAGMA synchronous=OFF")


def _on_begin(connection: Connection) -> None:
    # A writer has begun already, with the lock: see ``locked``.
    if not connection.get_execution_options().get(_WRITING, False):
        driver = connection.connection.driver_connection
        assert isinstance(driver, sqlite3.Connection)  # nosec B101 - narrows the type
        driver.execute("BEGIN")


class _Writers:
    """The connections that write: one is kept at hand, as a pool takes half as long as a short write."""

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self._at_hand: list[PoolProxiedConnection] = []

    def take(self) -> PoolProxiedConnection:
        """One that nobody else has."""
        try:
            return self._at_hand.pop()
        except IndexError:
            return self.engine.raw_connection()

    def give_back(self, pooled: PoolProxiedConnection) -> None:
        """Whoever took it has ended what he did on it."""
        if pooled.is_valid and not self._at_hand:
            self._at_hand.append(pooled)
        else:
            pooled.close()

    def let_go(self) -> None:
        """Close the one at hand."""
        while self._at_hand:
            self._at_hand.pop().invalidate()


def _write_through(made: Engine, engine: Engine) -> None:
    """Have what is written to ``made`` go through ``engine``, which ends with it."""
    writers = _Writers(engine)
    made.update_execution_options(**{_WRITERS: writers})

    def end(_: Engine) -> None:
        writers.let_go()
        if engine.pool is not made.pool:
            engine.dispose()

    event.listen(made, "engine_disposed", end)


class Held:
    """The write lock, until its transaction ends: the ``driver`` that holds it, and the same as a ``connection``.

    ``answer`` is the row that the question gave which was asked with the lock.
    """

    def __init__(self, writers: _Writers) -> None:
        self._writers, self._pooled = writers, writers.take()
        self.driver = cast("Driver", self._pooled.driver_connection)
        self.answer: tuple[Any, ...] | None = None

    @cached_property
    def connection(self) -> Connection:
        """For every statement that is not worth writing for the driver; made when it is first asked for."""
        return Connection(self._writers.engine, self._pooled)

    def begin(self, question: str) -> bool:
        """Begin and wait for the lock; ``False`` where the connection had ended before anything was asked of it."""
        try:
            self.answer = _begun(self.driver, question)
        except BaseException as error:
            self.undo()
            self.release()
            if isinstance(error, psycopg.Error) and _is_gone(self.driver):
                return False
            raise
        return True

    def undo(self) -> None:
        """Undo what was done; a connection that has ended or cannot undo it is not used again: the database does."""
        try:
            self.driver.rollback()
            is_usable = not _is_gone(self.driver)
        except (sqlite3.Error, psycopg.Error):
            is_usable = False
        if not is_usable and self._pooled.is_valid:
            self._pooled.invalidate()

    def release(self) -> None:
        """Give the connection back."""
        made: Connection | None = self.__dict__.get("connection")
        if made is None:
            self._writers.give_back(self._pooled)
        else:
            made.close()


def _is_gone(driver: Driver) -> bool:
    return isinstance(driver, psycopg.Connection) and driver.closed


def _begun(driver: Driver, question: str) -> tuple[Any, ...] | None:
    if isinstance(driver, sqlite3.Connection):
        # A writer takes the lock before it reads the head, so that two of them never see the same one.
        driver.execute("BEGIN IMMEDIATE")
        return cast("tuple[Any, ...] | None", driver.execute(question).fetchone()) if question else None
    return _answered(driver, "; ".join((*_POSTGRESQL_BEGIN, *([question] if question else []))), bool(question))


def _answered(driver: psycopg.Connection[Any], statements: str, is_asked: bool) -> tuple[Any, ...] | None:
    """The first row that the last of ``statements`` gives; they are sent as one.

    Each way to the server and back is as long as a wait for its disk, and the driver's own way through a cursor half
    as long again.
    """
    result = driver.pgconn.exec_(statements.encode())
    if result.status not in (ExecStatus.TUPLES_OK, ExecStatus.COMMAND_OK):
        raise error_from_result(result, encoding="utf-8")
    read = Transformer(driver)
    read.set_pgresult(result)
    return read.load_row(0, tuple) if is_asked else None


@contextmanager
def writing(made: Engine) -> Iterator[Connection]:
    """A connection in one transaction that holds the write lock: committed at the end, undone by an exception."""
    with locked(made) as held:
        yield held.connection


@contextmanager
def locked(made: Engine, question: str = "") -> Iterator[Held]:
    """The same with the driver itself, and the answer to one ``question`` that is asked with the lock."""
    writers = made.get_execution_options()[_WRITERS]
    with driver_errors():
        held = _held(writers, question)
        try:
            yield held
            held.driver.commit()
        except BaseException:
            held.undo()
            raise
        finally:
            held.release()


def _held(writers: _Writers, question: str) -> Held:
    held = Held(writers)
    if not held.begin(question):
        # The server began anew since the last writer: each connection from before is dead. Nothing was written yet.
        writers.let_go()
        writers.engine.dispose()
        held = Held(writers)
        if not held.begin(question):
            raise StoreUnavailable("store-out-of-reach")
    return held


def guard_records(connection: Connection) -> None:
    """Make the triggers that refuse to change or delete a record."""
    triggers = _POSTGRESQL_TRIGGERS if connection.dialect.name == "postgresql" else _SQLITE_TRIGGERS
    for trigger in triggers:
        connection.execute(text(trigger))


@contextmanager
def reading_damaged(connection: Connection) -> Iterator[bool]:
    """Reads that get over letters that are none; gives whether the file's pages and indexes fit together.

    A bit turned in a file can make a text that is no text any more: it is read with a mark in that place, so that its
    record is named and not the whole file refused. A bit in an index shows in no table, and yet what is looked for by
    it would not be found.
    """
    driver = connection.connection.driver_connection
    if not isinstance(driver, sqlite3.Connection):
        yield True
        return
    driver.text_factory = _with_marks
    try:
        yield connection.exec_driver_sql("PRAGMA integrity_check(1)").scalar_one() == "ok"
    finally:
        driver.text_factory = str


def _with_marks(letters: bytes) -> str:
    return letters.decode("utf-8", "replace")


def scrub(made: Engine) -> None:
    """Take deleted rows out of the write-ahead log as well, as far as readers still at work allow."""
    if made.dialect.name == "sqlite":
        with driver_errors(), made.connect() as connection:
            driver = connection.connection.driver_connection
            assert isinstance(driver, sqlite3.Connection)  # nosec B101 - narrows the type
            driver.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def make_file(folder: Path) -> list[Path]:
    """What had to be made for the database: its file, which only its owner can read, and the files beside it."""
    path = folder / FILE_NAME
    if path.exists():
        return []
    with os_errors(folder):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    return [path, *(path.with_name(path.name + end) for end in ("-wal", "-shm"))]


def make_folder(folder: Path) -> list[Path]:
    """The folders that had to be made for ``folder``, the outermost first."""
    missing = [each for each in (folder, *folder.parents) if not each.exists()]
    with os_errors(folder):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return missing[::-1]


def unmake(made: list[Path]) -> None:
    """Delete what was made, the last first; a folder that somebody else put something into stays."""
    for path in reversed(made):
        with suppress(OSError):
            path.rmdir() if path.is_dir() else path.unlink()
