"""Killed at any moment by the power or somebody's hand: what was acknowledged is there, and nothing is half there."""

from __future__ import annotations

import random
import signal
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.contract import ledgers, postgres
from tests.faults import crew
from tests.faults.crew import Ack, Crew
from tests.faults.ledger_checks import looked_at
from trainer.settings import Settings

KILLS, KILLS_IN_FULL = 20, 200
CRASHES, CRASHES_IN_FULL = 3, 20

has_server = pytest.mark.skipif(postgres.programs() is None, reason="no PostgreSQL on this machine")


def test_all_that_was_acknowledged_outlives_a_kill_at_any_moment(place: Settings, is_full: bool) -> None:
    crew.make(place)
    chance = random.Random(20260302)
    known: list[Ack] = []
    for kill in range(KILLS_IN_FULL if is_full else KILLS):
        with Crew(place, minutes=kill) as at_work:
            new = at_work.acknowledged(chance.randint(1, 12))
            new += at_work.kill()
        known += new
        looked_at(place, new)
    looked_at(place, known)
    assert {ack[0] for ack in known} >= {"record", "answer", "person", "texts"}


@pytest.fixture
def fragile() -> Iterator[postgres.Server]:
    """A PostgreSQL server of this test's own, because it dies."""
    with postgres.server() as server:
        yield server


@has_server
def test_people_go_on_where_the_database_server_dies_under_them(
    fragile: postgres.Server, tmp_path: Path, is_full: bool
) -> None:
    place = replace(ledgers.settings_in(tmp_path / "data"), database_url=fragile.database())
    crew.make(place)
    chance = random.Random(20260303)
    known: list[Ack] = []
    with Crew(place) as at_work:
        for crash in range(CRASHES_IN_FULL if is_full else CRASHES):
            known += at_work.acknowledged(chance.randint(5, 20))
            fragile.crash(signal.SIGKILL if crash % 3 == 1 else signal.SIGQUIT)
            told = at_work.acknowledged(1)
            fragile.start()
            # Whoever was told to wait goes on by himself, on the connection that comes back.
            while not {ack[0] for ack in told} - {"waits"}:
                told += at_work.acknowledged(1)
            known += told
            looked_at(place, [ack for ack in told if ack[0] != "waits"])
        known += at_work.acknowledged(20)
        known += at_work.kill()
    looked_at(place, known)
    assert {ack[1] for ack in known if ack[0] == "waits"} == {"store-out-of-reach"}
