"""Several people at one thing at the same moment: one record where it is one thing, two where it is two."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from tests.contract import ledgers
from tests.faults import crew
from tests.faults.ledger_checks import require_whole
from tests.unit.actions.rig import PINS
from trainer.actions import quizzing, watching
from trainer.actions.sittings import Sitting
from trainer.core.records import Observation, QuizTaken, StoodDown
from trainer.settings import Settings
from trainer.store import Head, SignedHead, Store, heads, open_store, pack, unpack
from trainer.store.keys import Keys


@pytest.fixture
def two(place: Settings) -> Iterator[tuple[Store, Store]]:
    """The small rig as two app processes have it open."""
    crew.make(place)
    stores = open_store(place), open_store(place)
    yield stores
    require_whole(stores[0])
    assert stores[0].verify() == []
    for each in stores:
        each.close()


def at_once(*acts: Callable[[], object]) -> list[object]:
    """What each act gives, all of them let go at the same moment; what one raises is raised."""
    gate = Barrier(len(acts))

    def when_all_are_there(act: Callable[[], object]) -> object:
        gate.wait(60)
        return act()

    with ThreadPoolExecutor(len(acts)) as people:
        return list(people.map(when_all_are_there, acts))


def signs(store: Store, sheet_id: str, observer: str, *, hand: str = "ana") -> Callable[[], object]:
    """That observer puts the last two PINs to his sheet through that process."""
    desk = crew.rig_on(store, observer).desk
    return lambda: watching.commit(desk, sheet_id, PINS[observer], PINS[hand], device=crew.TABLET).hash


def watches(store: Store) -> list[Observation]:
    """Every watch on record."""
    return [each.body for each in store.records(kinds=("observation",)) if isinstance(each.body, Observation)]


def test_one_sheet_signed_twice_at_once_is_one_record(two: tuple[Store, Store]) -> None:
    for _ in range(5):
        before = len(watches(two[0]))
        sheet_id = crew.sheet(crew.rig_on(two[0], "ben"), "ana", "met", "seen once")
        hashes = at_once(*(signs(store, sheet_id, "ben") for store in (*two, *two)))
        assert len(set(hashes)) == 1
        assert len(watches(two[0])) == before + 1


def test_two_observers_of_one_hand_at_once_write_two_records(two: tuple[Store, Store]) -> None:
    for _ in range(5):
        before = len(watches(two[0]))
        sheets = [
            crew.sheet(crew.rig_on(store, observer), "ana", "met", f"seen by {observer}")
            for store, observer in zip(two, ("ben", "dee"), strict=True)
        ]
        first, second = at_once(signs(two[0], sheets[0], "ben"), signs(two[1], sheets[1], "dee"))
        assert first != second
        assert len(watches(two[0])) == before + 2


def test_two_observers_who_see_the_same_miss_stand_the_hand_down_once(two: tuple[Store, Store]) -> None:
    rig = crew.rig_on(two[0], "cy")
    rig.hold("ana", "hands", rig.desk.today)
    sheets = [
        crew.sheet(crew.rig_on(store, observer), "ana", "not met", "reached in")
        for store, observer in zip(two, ("ben", "dee"), strict=True)
    ]
    at_once(signs(two[0], sheets[0], "ben"), signs(two[1], sheets[1], "dee"))
    assert len(watches(two[0])) == 2
    (down,) = two[0].records(kinds=("stood-down",), hand="ana")
    first = next(two[0].records(kinds=("observation",)))
    # Whoever came second saw a hand who was off the slips already.
    assert isinstance(down.body, StoodDown)
    assert down.body.observation == first.record_id


def test_one_quiz_answered_on_two_tablets_keeps_the_first_answer_to_each_item(two: tuple[Store, Store]) -> None:
    desks = [crew.rig_on(store, "ana").desk for store in two]
    opened = at_once(*(lambda desk=desk: quizzing.start(desk, "q").draft_id for desk in desks))
    assert len(set(opened)) == 1
    sitting = quizzing.start(desks[0], "q")
    for position in range(len(sitting.form.items)):
        given = [crew.right(sitting, position), wrong(sitting, position)]
        told = at_once(
            *(answers(desk, sitting.draft_id, position, each) for desk, each in zip(desks, given, strict=True))
        )
        # Both tablets are told the one answer that counts.
        assert told[0] == told[1]
    records = at_once(*(lambda desk=desk: quizzing.finish(desk, sitting.draft_id)[0].hash for desk in desks))
    assert len(set(records)) == 1
    (taken,) = two[1].records(kinds=("quiz",))
    assert isinstance(taken.body, QuizTaken)
    assert taken.record_id == sitting.draft_id
    assert two[0].drafts(owner="ana") == ()


def wrong(sitting: Sitting, position: int) -> object:
    """Another answer that can be read: the right one of two that the item has, turned round or cut short."""
    key = crew.right(sitting, position)
    if isinstance(key, tuple):
        return tuple(reversed(key)) if len(key) == 4 else key[:1]
    _, drawn = sitting.item(position)
    return "1" if not drawn.options else next(each for each in ("o1", "o2") if each != key)


def answers(desk: object, draft_id: str, position: int, given: object) -> Callable[[], object]:
    """That tablet gives that answer; what it is told was kept."""
    return lambda: quizzing.answer(desk, draft_id, position, given).sitting.given[position]  # type: ignore[arg-type]


def test_a_bundle_made_while_others_write_ends_where_its_head_says(
    two: tuple[Store, Store], monkeypatch: pytest.MonkeyPatch
) -> None:
    signed = heads.signed

    def with_somebody_writing(head: Head, keys: Keys) -> SignedHead:
        with two[1].transaction() as writing:
            writing.append(ledgers.new(ledgers.quiz(), "ana"))
        return signed(head, keys)

    monkeypatch.setattr("trainer.store.heads.signed", with_somebody_writing)
    given = unpack(pack(two[0].bundle(ledgers.AT), two[0].keys))
    assert len(given.records) == given.heads[-1].seq
    assert given.heads[-1].seq == two[0].heads()[0].seq - 1
