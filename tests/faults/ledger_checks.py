"""What must be true of a store after whatever happened to it: nothing acknowledged is gone, nothing is half there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from tests.faults.crew import Ack
from trainer.core.answers import from_json
from trainer.core.records import Joined, Json, Observation, Outside, QuizTaken, Record, StoodDown
from trainer.settings import Settings
from trainer.store import Reading, open_store, record_json

__all__ = ["looked_at", "require_all", "require_whole"]


def looked_at(place: Settings, acknowledged: Iterable[Ack]) -> None:
    """Open the store again and require that it is whole and holds all that was acknowledged."""
    store = open_store(place)
    try:
        # In one view of it all, because others may be at work on it.
        with store.snapshot() as seen:
            require_whole(seen)
            require_all(seen, acknowledged)
        assert store.verify() == []
    finally:
        store.close()


def require_whole(store: Reading) -> None:
    """Every record has its texts and its person, every text its record, and every stand-down its watch."""
    records = list(store.records())
    kept = {text.key for text in store.bundle("").texts}
    named = set(store.people())
    assert [(each.seq, each.kind) for each in records if not _texts_of(each) <= kept] == []
    assert [each.hand for each in records if isinstance(each.body, Joined) and each.hand not in named] == []
    assert kept - {each for record in records for each in _strings(record_json(record)["body"])} == set()
    assert _half_signed(records) == []


def _texts_of(record: Record) -> set[str]:
    """The keys of the texts that were written with this record."""
    match record.body:
        case Observation() as body:
            return {each for each in (body.note, *(step.note for step in body.steps)) if each}
        case Outside() as body:
            return {each for each in (body.note,) if each}
    return set()


def _half_signed(records: list[Record]) -> list[str]:
    """Stand-downs whose watch is not there."""
    there = {each.record_id for each in records}
    downs = (each for each in records if isinstance(each.body, StoodDown))
    return [
        each.record_id
        for each in downs
        if isinstance(each.body, StoodDown) and each.body.observation and each.body.observation not in there
    ]


def _strings(value: Json) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _strings(each)
    elif isinstance(value, list):
        for each in value:
            yield from _strings(each)


def require_all(store: Reading, acknowledged: Iterable[Ack]) -> None:
    """Every record, answer, person and text that somebody was told is saved is there."""
    notes = [text.text for text in store.bundle("").texts]
    noted = Counter(_note_of(store, each) for each in store.records(kinds=("outside",)))
    for ack in acknowledged:
        match ack:
            case ("record", record_id, digest):
                record = store.record(record_id)
                assert record is not None, ack
                assert record.hash == digest
            case ("answer", draft_id, position, item_id, answer):
                assert _answer_in(store, draft_id, int(position), item_id) == answer, ack
            case ("person", hand):
                assert store.person(hand) is not None, ack
            case ("texts", note, number):
                assert note in notes, ack
                assert noted[note] == int(number), ack


def _note_of(store: Reading, record: Record) -> str | None:
    return store.text(record.body.note) if isinstance(record.body, Outside) and record.body.note else None


def _answer_in(store: Reading, draft_id: str, position: int, item_id: str) -> str:
    """The final answer there: in the draft while the quiz is open, in its record once it is closed."""
    record = store.record(draft_id)
    if record is not None and isinstance(record.body, QuizTaken):
        return repr(from_json(record.body.answers[item_id]))
    answer, is_final = store.answers(draft_id)[position]
    assert is_final
    return repr(from_json(answer))
