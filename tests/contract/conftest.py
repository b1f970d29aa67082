"""The stores that the contract is tested on. PostgreSQL is not among them yet."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.contract import ledgers
from trainer.store import Store

DIALECTS = ("sqlite",)


@pytest.fixture(params=DIALECTS)
def store(tmp_path: Path) -> Iterator[Store]:
    """A new store with its two first records."""
    made = ledgers.empty(tmp_path / "data")
    yield made
    made.close()
