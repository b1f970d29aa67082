"""What the matrix reads on from: only what is new, and everything again where that cannot be told."""

from __future__ import annotations

import shutil
from contextlib import closing
from pathlib import Path

from tests.contract import ledgers
from trainer.store import Store, open_store


def write_one(store: Store, hand: str) -> None:
    """One quiz of that hand."""
    with store.transaction() as writing:
        writing.append(ledgers.new(ledgers.quiz(), hand))


def test_of_a_store_in_whose_place_another_copy_was_put_everything_is_read_again(tmp_path: Path) -> None:
    with closing(ledgers.empty_at(ledgers.settings_in(tmp_path / "one"))) as store:
        write_one(store, "h1")
    shutil.copytree(tmp_path / "one", tmp_path / "two")
    one, two = (open_store(ledgers.settings_in(tmp_path / name)) for name in ("one", "two"))
    with closing(one), closing(two):
        # Both go on from the same record, each its own way.
        write_one(one, "h2")
        before = one.news().moment
        assert not one.news(before).is_all
        write_one(two, "h3")
        write_one(two, "h4")
        news = two.news(before)
        assert news.is_all
        assert {row.hand for row in news.evidence} == {"h1", "h3", "h4"}
