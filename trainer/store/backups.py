"""A backup: every table and the keys in one file, the same for either dialect, taken while the app runs.

It is a zip of one file of JSON lines a table (the names of its columns, then its rows), read in one transaction, so
that it is the store of one moment. The keys
are in it, because PINs and signatures mean nothing without them: whoever holds the file holds the site.
"""

from __future__ import annotations

import errno
import json
import os
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, Table, insert, select, update

from trainer.errors import BadInput, StoreDamaged, StoreExists, StoreNewer
from trainer.settings import Settings
from trainer.store import dialects, keys, merging, verify
from trainer.store.driver_errors import driver_errors, os_errors
from trainer.store.schema import ALL, SCHEMA, meta
from trainer.store.shapes import Fault

__all__ = ["restore", "write"]

_ABOUT = "about.json"
_FORM = 1
_ROWS = 1000
_LARGEST = 4_000_000_000
_SKIPPED = frozenset({"sessions", "tickets"})
"""Who is signed in just now belongs to no backup."""

# A bit turned in a zip can say that a part is packed in a way that nobody knows, or locked, or of another length.
_NO_BACKUP = (
    zipfile.BadZipFile, zlib.error, KeyError, ValueError, TypeError, EOFError, NotImplementedError, RuntimeError,
    struct.error,
)  # fmt: skip


def write(engine: Engine, secrets: Path, out: Path, at: str) -> None:
    """Write the backup of one moment to ``out``, which only its owner can read; an older file there is replaced.

    Raises ``StoreUnavailable`` where it cannot be written; what stood at ``out`` then still stands there.
    """
    beside = out.with_name(f"{out.name}.part")
    try:
        _write(engine, secrets, beside, at)
        with os_errors(out.parent):
            beside.replace(out)
    except BaseException:
        # Half a backup is none, and on a full disk it would take the room that is wanted.
        with suppress(OSError):
            beside.unlink()
        raise


def _write(engine: Engine, secrets: Path, beside: Path, at: str) -> None:
    with os_errors(beside.parent), driver_errors():
        descriptor = os.open(beside, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o600)
        with os.fdopen(descriptor, "wb") as file, zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.writestr(_ABOUT, json.dumps({"backup": _FORM, "schema": SCHEMA, "at": at}))
            for name in keys.NAMES:
                packed.writestr(f"keys/{name}", (secrets / name).read_bytes())
            with engine.connect() as connection, connection.begin():
                for table in _tables():
                    _pack(connection, table, packed)


def _tables() -> list[Table]:
    return [table for table in ALL.sorted_tables if table.name not in _SKIPPED]


def _part(table: Table) -> str:
    return f"tables/{table.name}.jsonl"


def _pack(connection: Connection, table: Table, packed: zipfile.ZipFile) -> None:
    wanted = select(table).order_by(*table.primary_key.columns).execution_options(yield_per=_ROWS)
    with packed.open(_part(table), "w", force_zip64=True) as file:
        file.write(json.dumps([column.name for column in table.columns]).encode() + b"\n")
        for row in connection.execute(wanted):
            file.write(json.dumps(list(row), ensure_ascii=False).encode() + b"\n")


def restore(settings: Settings, given: Path) -> None:
    """Make the site that the backup ``given`` holds, where no site is yet.

    Nothing is left behind when it is refused: ``StoreExists`` where a site is, ``BadInput("backup-form")`` for a file
    that is no backup, ``StoreNewer`` for one of a newer version, ``StoreDamaged("backup-verify")`` for one whose chain
    or evidence does not verify, ``StoreUnavailable`` where it cannot be written.
    """
    try:
        with zipfile.ZipFile(given) as packed:
            _require_ours(packed)
            _restore(settings, packed)
    except _NO_BACKUP as error:
        raise BadInput("backup-form") from error
    except OSError as error:
        # A place before the file's beginning is the zip's mistake; whatever else, the disk's.
        if error.errno == errno.EINVAL:
            raise BadInput("backup-form") from error
        with os_errors(given.parent):
            raise


def _require_ours(packed: zipfile.ZipFile) -> None:
    about = json.loads(packed.read(_ABOUT))
    if about["backup"] > _FORM or about["schema"] > SCHEMA:
        raise StoreNewer("store-newer", theirs=str(about["schema"]), ours=str(SCHEMA))
    if sum(each.file_size for each in packed.infolist()) > _LARGEST:
        raise BadInput("backup-form")
    # Only an older one may lack a table that came later.
    if about["schema"] == SCHEMA and not {_part(table) for table in _tables()} <= set(packed.namelist()):
        raise BadInput("backup-form")


def _restore(settings: Settings, packed: zipfile.ZipFile) -> None:
    made: list[Path] = []
    # Keys beside a database that is not theirs would pass for it.
    if any((settings.data / keys.FOLDER / name).exists() for name in keys.NAMES):
        raise StoreExists("store-exists", folder=str(settings.data))
    engine = dialects.engine(settings.data, settings.database_url)
    try:
        made += dialects.make_folder(settings.data)
        made += keys.put(settings.data / keys.FOLDER, {name: packed.read(f"keys/{name}") for name in keys.NAMES})
        made += dialects.make_file(settings.data) if dialects.is_file(settings.database_url) else []
        with dialects.writing(engine) as connection:
            _fill(connection, packed)
    except BaseException:
        engine.dispose()
        dialects.unmake(made)
        raise
    engine.dispose()


def _fill(connection: Connection, packed: zipfile.ZipFile) -> None:
    ALL.create_all(connection)
    if connection.execute(select(meta.c.name).limit(1)).first() is not None:
        raise StoreExists("store-exists", folder="")
    dialects.guard_records(connection)
    for table in _tables():
        for rows in _unpacked(table, packed):
            connection.execute(insert(table), rows)
    connection.execute(update(meta).where(meta.c.name == "schema").values(value=str(SCHEMA)))
    merging.forget_erased(connection)
    site = connection.execute(select(meta.c.value).where(meta.c.name == "site")).scalar_one()
    faults = verify.faults(connection, str(site))
    if faults:
        raise _damaged(faults[0])


def _unpacked(table: Table, packed: zipfile.ZipFile) -> Iterator[list[dict[str, Any]]]:
    """The table's rows, so many at a time; a column that an older backup lacks is left to its default."""
    if _part(table) not in packed.namelist():
        return
    with packed.open(_part(table)) as file:
        columns = json.loads(file.readline())
        rows: list[dict[str, Any]] = []
        for line in file:
            rows.append(dict(zip(columns, json.loads(line), strict=True)))
            if len(rows) == _ROWS:
                yield rows
                rows = []
        if rows:
            yield rows


def _damaged(fault: Fault) -> StoreDamaged:
    return StoreDamaged("backup-verify", site=fault.site, seq=fault.seq, record=fault.record_id)
