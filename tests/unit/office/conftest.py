"""A new site's store, and the console's desk on it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.unit.office import small_site
from trainer.actions.desk import Desk
from trainer.store import Store


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = small_site.new_store(tmp_path / "data")
    yield made
    made.close()


@pytest.fixture
def desk(store: Store) -> Desk:
    return small_site.desk_of(store)
