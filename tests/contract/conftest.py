"""The stores that the contract is tested on: SQLite, and a real PostgreSQL that the tests start themselves."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path

import pytest

from tests.contract import ledgers, postgres
from trainer.settings import Settings
from trainer.store import Store

DIALECTS = ("sqlite", "postgresql") if postgres.programs() else ("sqlite",)


@pytest.fixture(scope="session")
def databases() -> Iterator[dict[str, postgres.Server]]:
    """The PostgreSQL server of this run, started when a test first asks for it."""
    with ExitStack() as stack:
        yield {"postgresql": stack.enter_context(postgres.server())} if "postgresql" in DIALECTS else {}


@pytest.fixture(params=DIALECTS)
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Settings:
    """Where a store of that dialect may be made: an empty folder, and an empty database where it takes one."""
    return made_place(request, tmp_path / "data")


def made_place(request: pytest.FixtureRequest, folder: Path) -> Settings:
    """Settings for ``folder`` on the dialect that ``request`` names."""
    if request.param == "sqlite":
        return ledgers.settings_in(folder)
    server = request.getfixturevalue("databases")[request.param]
    return replace(ledgers.settings_in(folder), database_url=server.database())


@pytest.fixture
def store(place: Settings) -> Iterator[Store]:
    """A new store with its two first records."""
    made = ledgers.empty_at(place)
    yield made
    made.close()
