"""Several who write at the same time, and one who dies while writing."""

from __future__ import annotations

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.contract.ledgers import new, quiz
from trainer.settings import Settings
from trainer.store import NewRecord, Store

ROOT = Path(__file__).parents[2]

WRITE = """
import sys
from pathlib import Path
from tests.contract import ledgers
from trainer.store import open_store

store = open_store(ledgers.settings_in(Path(sys.argv[1]), sys.argv[2] or None))
ids = ledgers.new_ids(int(sys.argv[3]))
sys.stdin.readline()
for _ in range(20):
    with store.transaction() as writing:
        writing.append(ledgers.new(ledgers.quiz(), "h1", record_id=next(ids)))
"""

DIE = """
import os, signal, sys
from pathlib import Path
from tests.contract import ledgers
from trainer.store import Person, open_store

store = open_store(ledgers.settings_in(Path(sys.argv[1]), sys.argv[2] or None))
with store.transaction() as writing:
    writing.append(ledgers.new(ledgers.quiz(), "h1"))
    writing.put_person(Person("h1", "Ana Bell"))
    os.kill(os.getpid(), signal.SIGKILL)
"""


def started(code: str, place: Settings, *arguments: str) -> subprocess.Popen[str]:
    command = (sys.executable, "-c", code, str(place.data), place.database_url or "", *arguments)
    return subprocess.Popen(command, cwd=ROOT, stdin=subprocess.PIPE, text=True)


def is_whole(store: Store, count: int) -> bool:
    return [record.seq for record in store.records()] == list(range(1, count + 1)) and store.verify() == []


def test_threads_that_append_at_once_each_get_a_place_of_their_own(store: Store) -> None:
    def write(record: NewRecord) -> int:
        with store.transaction() as writing:
            return writing.append(record).seq

    with ThreadPoolExecutor(8) as threads:
        places = list(threads.map(write, [new(quiz(), "h1") for _ in range(60)]))
    assert sorted(places) == list(range(3, 63))
    assert is_whole(store, 62)
    assert len(store.evidence_rows()) == 60


def test_one_form_sent_twice_at_once_is_one_record(store: Store) -> None:
    record = new(quiz(), "h1")

    def write(_: int) -> str:
        with store.transaction() as writing:
            return writing.append(record).hash

    with ThreadPoolExecutor(4) as threads:
        assert len(set(threads.map(write, range(12)))) == 1
    assert is_whole(store, 3)


def test_processes_that_append_at_once_keep_one_chain(store: Store, place: Settings) -> None:
    writers = [started(WRITE, place, str(start)) for start in (1, 1001)]
    for writer in writers:
        assert writer.stdin is not None
        writer.stdin.write("go\n")
        writer.stdin.close()
    assert [writer.wait(60) for writer in writers] == [0, 0]
    assert is_whole(store, 42)


def test_a_process_killed_in_its_transaction_leaves_nothing(store: Store, place: Settings) -> None:
    dead = started(DIE, place)
    dead.communicate(timeout=60)
    assert dead.returncode == -9
    assert (store.people(), store.evidence_rows()) == ({}, [])
    assert is_whole(store, 2)
    with store.transaction() as writing:
        writing.append(new(quiz(), "h1"))
    assert is_whole(store, 3)


def test_readers_see_what_was_committed_and_nothing_half_done(store: Store) -> None:
    with store.transaction() as writing:
        writing.append(new(quiz(), "h1"))
        assert (len(list(store.records())), store.evidence_rows()) == (2, [])
    assert (len(list(store.records())), len(store.evidence_rows())) == (3, 1)


def test_a_connection_that_ended_in_the_middle_of_a_write_is_not_used_again(store: Store) -> None:
    def write(hand: str, *, is_cut: bool = False) -> None:
        with store.transaction() as writing:
            writing.append(new(quiz(), hand))
            if is_cut:
                writing._held.driver.close()
                raise ZeroDivisionError

    write("h1")
    with pytest.raises(ZeroDivisionError):
        write("h2", is_cut=True)
    write("h3")
    assert [row.hand for row in store.evidence_rows()] == ["h1", "h3"]
    assert is_whole(store, 4)
