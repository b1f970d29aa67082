"""A store of another version, on either dialect: a newer one is left alone with the reason, an older one brought on."""

from __future__ import annotations

import json
import sqlite3
import zipfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import create_engine, inspect, text

from tests.contract import ledgers
from tests.contract.test_store_tampering import Raw
from trainer.actions.keeping import restore
from trainer.errors import StoreDamaged, StoreNewer
from trainer.settings import Settings
from trainer.store import Person, Store, keys_in, open_store
from trainer.store.schema import ALL, SCHEMA

DATA = Path(__file__).parents[1] / "data"

HEADS = {
    1: "429690e6652924ad880aba64344f12734078283e338c3abc04d9b3de64561ad6",
    2: "5a60b77b708dfd11fc104f66ae2a53fcd682a609f4adca89e603fe86402eccb4",
}
"""Each version of the schema that came before, with the head of the store that it left in ``DATA``."""

# The types that the first version gave its columns on a server, where the file of it says none.
_TYPES = {"INTEGER": "INTEGER", "BIGINT": "BIGINT", "BOOLEAN": "BOOLEAN"}


@pytest.fixture
def store(place: Settings) -> Iterator[Store]:
    """A new store with a little of everything."""
    made = ledgers.empty_at(place)
    ledgers.lively(made)
    yield made
    made.close()


def say(store: Store, version: str) -> None:
    """Have the store say that it is of that version."""
    raw = Raw(store)
    raw.run("UPDATE meta SET value = :version WHERE name = 'schema'", version=version)
    raw.engine.dispose()


def test_a_newer_store_is_refused_with_both_versions_and_left_as_it_is(store: Store, place: Settings) -> None:
    before = [each.hash for each in store.records()]
    say(store, str(SCHEMA + 1))
    with pytest.raises(StoreNewer, match="store-newer") as caught:
        open_store(place)
    assert caught.value.values == {"theirs": str(SCHEMA + 1), "ours": str(SCHEMA)}
    say(store, str(SCHEMA))
    assert [each.hash for each in store.records()] == before
    assert store.verify() == []


def test_a_backup_of_a_newer_store_makes_nothing(store: Store, place: Settings, tmp_path: Path) -> None:
    store.backup(keys_in(place), tmp_path / "backup", ledgers.AT)
    raised = tmp_path / "raised"
    change_about(tmp_path / "backup", raised, SCHEMA + 1)
    with pytest.raises(StoreNewer):
        restore(ledgers.settings_in(tmp_path / "to"), raised)
    assert not (tmp_path / "to").exists()


def change_about(given: Path, to: Path, schema: int) -> None:
    """A copy of a backup that says it is of that version."""
    with zipfile.ZipFile(given) as old, zipfile.ZipFile(to, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            new.writestr(name, json.dumps({**json.loads(data), "schema": schema}) if name == "about.json" else data)


@pytest.mark.parametrize("said", ["", "two", "-1", "2.0"])
def test_a_store_whose_version_is_no_number_is_damaged(store: Store, place: Settings, said: str) -> None:
    say(store, said)
    with pytest.raises(StoreDamaged, match="store-not-a-database"):
        open_store(place)


@pytest.mark.parametrize(("version", "head"), HEADS.items())
def test_an_older_store_is_brought_forward_with_all_it_holds(place: Settings, version: int, head: str) -> None:
    lay_out(place, version)
    for _ in range(2):
        store = open_store(place)
        assert store.verify() == []
        assert store.heads()[0].hash == head
        assert store.evidence_rows(hands=["h2"])
        assert store.person("h2") == Person("h2", "José Nguyễn", "es", "short service")
        assert {each.name for each in ALL.sorted_tables} <= set(inspect(store._engine).get_table_names())
        store.close()
    store = open_store(place)
    with store.transaction() as writing:
        writing.append(ledgers.new(ledgers.quiz(), "h1"))
    assert store.verify() == []
    store.close()


def lay_out(place: Settings, version: int) -> None:
    """A store as that version of the schema left it; on a server its tables and rows are the file's."""
    (place.data / "keys").mkdir(parents=True)
    for name, secret in json.loads((DATA / f"store-{version}.keys.json").read_text("utf-8")).items():
        (place.data / "keys" / name).write_bytes(bytes.fromhex(secret))
    script = (DATA / f"store-{version}.sql").read_text("utf-8")
    if place.database_url is None:
        with closing(sqlite3.connect(place.data / "trainer.sqlite3")) as raw:
            raw.executescript(script)
        return
    with closing(sqlite3.connect(":memory:")) as old:
        old.executescript(script)
        carry(old, place.database_url)


def carry(old: sqlite3.Connection, url: str) -> None:
    """Every table and row of ``old`` made on the server that ``url`` names."""
    engine = create_engine(url.replace("postgresql://", "postgresql+psycopg://"))
    with engine.begin() as server:
        for (table,) in old.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall():
            columns = old.execute(f"PRAGMA table_info({table})").fetchall()
            shapes = ", ".join(f'"{name}" {_TYPES.get(kind, "VARCHAR")}' for _, name, kind, *_ in columns)
            server.execute(text(f"CREATE TABLE {table} ({shapes})"))
            for row in old.execute(f"SELECT * FROM {table}"):
                values = {f"v{place}": value for place, value in enumerate(row)}
                marks = ", ".join(f":{name}" for name in values)
                server.execute(text(f"INSERT INTO {table} VALUES ({marks})"), values)
    engine.dispose()
