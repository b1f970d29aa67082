"""What the drivers and the disk raise, as the project's own errors: the one place that knows their names for it."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from trainer.errors import StoreDamaged, StoreError, StoreUnavailable

__all__ = ["driver_errors", "opening_errors", "os_errors"]

_SQLITE_ERRORS = (
    ("SQLITE_FULL", StoreUnavailable, "store-full"),
    # There was no room for the small file beside the database that its first reader makes.
    ("SQLITE_IOERR_SHMSIZE", StoreUnavailable, "store-full"),
    ("SQLITE_READONLY", StoreUnavailable, "store-read-only"),
    ("SQLITE_BUSY", StoreUnavailable, "store-locked"),
    ("SQLITE_LOCKED", StoreUnavailable, "store-locked"),
    ("SQLITE_CANTOPEN", StoreUnavailable, "store-out-of-reach"),
    ("SQLITE_IOERR", StoreUnavailable, "store-out-of-reach"),
    ("SQLITE_PERM", StoreUnavailable, "store-read-only"),
    ("SQLITE_CORRUPT", StoreDamaged, "store-not-a-database"),
    ("SQLITE_NOTADB", StoreDamaged, "store-not-a-database"),
)

_NOT_TEXT = "Could not decode to UTF-8"
"""What the driver says, without a name, of a text in a damaged file."""

_POSTGRESQL_ERRORS = (
    ("53100", StoreUnavailable, "store-full"),
    ("25006", StoreUnavailable, "store-read-only"),
    ("55P03", StoreUnavailable, "store-locked"),
    ("40P01", StoreUnavailable, "store-locked"),
    ("53", StoreUnavailable, "store-out-of-reach"),
    ("57", StoreUnavailable, "store-out-of-reach"),
    ("08", StoreUnavailable, "store-out-of-reach"),
)


@contextmanager
def driver_errors() -> Iterator[None]:
    """Turn what a driver raises about disk, locks and files into the project's own errors; the one place for it."""
    try:
        yield
    except PoolTimeout as error:
        raise StoreUnavailable("store-locked") from error
    except (DBAPIError, sqlite3.Error, psycopg.Error) as error:
        known = _known(error.orig if isinstance(error, DBAPIError) else error)
        if known is None:
            raise
        raise known from error


@contextmanager
def opening_errors(made: Engine) -> Iterator[None]:
    """The same where a file is opened or looked over, which says less of what is wrong than writing to it does.

    One so damaged that not even its error can be read is damaged; one that cannot be opened beside others because
    nothing can be made in its folder is read-only.
    """
    try:
        with driver_errors():
            yield
    except UnicodeDecodeError as error:
        raise StoreDamaged("store-not-a-database") from error
    except StoreUnavailable as error:
        is_file = made.dialect.name == "sqlite"
        if is_file and error.code == "store-out-of-reach" and not _takes_files(Path(str(made.url.database))):
            raise StoreUnavailable("store-read-only") from error
        raise


def _takes_files(path: Path) -> bool:
    return not path.exists() or (os.access(path.parent, os.W_OK) and os.access(path, os.W_OK))


def _known(error: BaseException | None) -> StoreError | None:
    if isinstance(error, sqlite3.Error):
        if str(error).startswith(_NOT_TEXT):
            return StoreDamaged("store-not-a-database")
        return _match(getattr(error, "sqlite_errorname", ""), _SQLITE_ERRORS)
    state = getattr(error, "sqlstate", "")
    # psycopg gives no state where it never reached the server.
    return StoreUnavailable("store-out-of-reach") if state is None else _match(state, _POSTGRESQL_ERRORS)


def _match(name: str, table: tuple[tuple[str, type[StoreError], str], ...]) -> StoreError | None:
    return next((kind(code) for start, kind, code in table if name.startswith(start)), None)


@contextmanager
def os_errors(folder: Path) -> Iterator[None]:
    """The same for files and folders made or read outside the driver."""
    try:
        yield
    except OSError as error:
        code = "store-full" if error.errno in _FULL else "store-read-only" if error.errno in _READ_ONLY else None
        raise StoreUnavailable(code or "store-out-of-reach", folder=str(folder)) from error


_FULL = frozenset({28, 122})  # ENOSPC, EDQUOT
_READ_ONLY = frozenset({1, 13, 30})  # EPERM, EACCES, EROFS
