"""The store: opened or created here, read through ``Store``, written through ``Store.transaction()``."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, insert, inspect, select

from trainer.errors import StoreDamaged, StoreExists, StoreMissing, StoreNewer
from trainer.settings import Settings
from trainer.store import appending, backups, dialects, keys, upgrades, verify
from trainer.store.bundles import Bundle
from trainer.store.driver_errors import driver_errors, opening_errors
from trainer.store.keys import Keys
from trainer.store.reading import Reading
from trainer.store.schema import ALL, SCHEMA, meta
from trainer.store.shapes import Fault
from trainer.store.transaction import Transaction

__all__ = ["Store", "create", "open_store"]


class Store(Reading):
    """One site's store. It may be shared by threads; every read sees what was committed when it began."""

    def __init__(self, engine: Engine, site: str, store_id: str, secrets: Keys) -> None:
        super().__init__(site, store_id, secrets)
        self._engine = engine
        self._question = appending.asked_for_last(site)

    @contextmanager
    def _connection(self) -> Iterator[Connection]:
        with driver_errors(), self._engine.connect() as connection:
            yield connection

    @contextmanager
    def transaction(self) -> Iterator[Transaction]:
        """One transaction, committed at the end of the block and undone by an exception in it.

        It holds the write lock: do nothing slow in it, and begin no second one in it. Raises ``StoreUnavailable``.
        """
        with dialects.locked(self._engine, self._question) as held:
            yield Transaction(held, self.site, self.store_id, self.keys)

    @contextmanager
    def snapshot(self) -> Iterator[Reading]:
        """Reads that all see what was committed when the first of them began, whoever writes meanwhile."""
        with self._connection() as connection:
            yield _Snapshot(connection, self)

    def bundle(self, at: str) -> Bundle:
        """As ``Reading.bundle``, of one moment: a record written meanwhile would stand behind the signed head."""
        with self.snapshot() as seen:
            return seen.bundle(at)

    def verify(self) -> list[Fault]:
        """Whatever does not fit: in each chain the first record, then heads, then rows that the ledger does not give.

        An empty list means that chains, heads, evidence, stays and voids are what the records say.
        """
        with opening_errors(self._engine), self._engine.connect() as connection:
            return verify.faults(connection, self.site)

    def backup(self, secrets: Path, out: Path, at: str) -> None:
        """Write everything here, with the keys in ``secrets``, to one file, as it is at this moment."""
        backups.write(self._engine, secrets, out, at)

    def scrub(self) -> None:
        """Take what ``Transaction.forget`` deleted out of the write-ahead log too."""
        dialects.scrub(self._engine)

    def close(self) -> None:
        """Close every connection; the store cannot be used after it."""
        self._engine.dispose()


class _Snapshot(Reading):
    """Reads on one connection, in the one transaction that it begins."""

    def __init__(self, connection: Connection, store: Store) -> None:
        super().__init__(store.site, store.store_id, store.keys)
        self._open = connection

    @contextmanager
    def _connection(self) -> Iterator[Connection]:
        yield self._open


def open_store(settings: Settings) -> Store:
    """The store in the data folder, or the one that the database URL names.

    Raises ``StoreMissing`` where no site was set up, ``StoreNewer`` where a newer version wrote it, ``StoreDamaged``
    where a key is missing or the file is no database, ``StoreUnavailable`` where it is out of reach.
    """
    path = settings.data / dialects.FILE_NAME
    if dialects.is_file(settings.database_url) and not path.exists():
        raise StoreMissing("store-missing", folder=str(settings.data))
    engine = dialects.engine(settings.data, settings.database_url, durable=settings.durable)
    try:
        return _opened(engine, settings)
    except BaseException:
        engine.dispose()
        raise


def _opened(engine: Engine, settings: Settings) -> Store:
    with opening_errors(engine), engine.connect() as connection:
        facts = _facts(connection)
    if "site" not in facts:
        raise StoreMissing("store-missing", folder=str(settings.data))
    version = _version(facts)
    if version > SCHEMA:
        raise StoreNewer("store-newer", theirs=facts["schema"], ours=str(SCHEMA))
    if version < SCHEMA:
        _bring_forward(engine)
    return Store(engine, facts["site"], facts["store_id"], keys.read(settings.data / keys.FOLDER))


def _bring_forward(engine: Engine) -> None:
    with dialects.writing(engine) as connection:
        # Asked again under the lock: another process may have done it meanwhile.
        version = _version(_facts(connection))
        if version < SCHEMA:
            upgrades.upgrade(connection, version)


def _facts(connection: Connection) -> dict[str, str]:
    if not inspect(connection).has_table(meta.name):
        return {}
    return {row.name: row.value for row in connection.execute(select(meta))}


def _version(facts: Mapping[str, str]) -> int:
    """The schema's version that the store says; raises ``StoreDamaged`` where what it says of itself is no number."""
    said = facts.get("schema", "")
    if not said.isascii() or not said.isdigit() or "store_id" not in facts:
        raise StoreDamaged("store-not-a-database")
    return int(said)


def create(settings: Settings, site: str, fill: Callable[[Transaction], None]) -> Store:
    """A new store for ``site``, holding what ``fill`` writes: all in one transaction, nothing left where it fails.

    Raises ``StoreExists`` where a site is there already, ``StoreUnavailable`` where nothing can be written, and
    whatever ``fill`` raises.
    """
    made: list[Path] = []
    engine = dialects.engine(settings.data, settings.database_url, durable=settings.durable)
    try:
        _refuse_existing(engine, settings)
        made += dialects.make_folder(settings.data)
        made += keys.make(settings.data / keys.FOLDER)
        made += dialects.make_file(settings.data) if dialects.is_file(settings.database_url) else []
        return _filled(engine, settings, site, fill)
    except BaseException:
        engine.dispose()
        dialects.unmake(made)
        raise


def _refuse_existing(engine: Engine, settings: Settings) -> None:
    # Before any key is made: keys beside a database that is not theirs would pass for it.
    if dialects.is_file(settings.database_url) and not (settings.data / dialects.FILE_NAME).exists():
        return
    with driver_errors(), engine.connect() as connection:
        if "site" in _facts(connection):
            raise StoreExists("store-exists", folder=str(settings.data))


def _filled(engine: Engine, settings: Settings, site: str, fill: Callable[[Transaction], None]) -> Store:
    secrets = keys.read(settings.data / keys.FOLDER)
    with dialects.locked(engine) as held:
        connection = held.connection
        if "site" in _facts(connection):
            raise StoreExists("store-exists", folder=str(settings.data))
        facts = {"schema": str(SCHEMA), "site": site, "store_id": uuid.uuid4().hex}
        ALL.create_all(connection)
        dialects.guard_records(connection)
        connection.execute(insert(meta), [{"name": name, "value": value} for name, value in facts.items()])
        fill(Transaction(held, site, facts["store_id"], secrets))
    return Store(engine, site, facts["store_id"], secrets)
