"""A clock that was set back: nothing is rewritten, the record says so, and neither door nor lock-out follows it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import pytest

from tests.faults import crew
from tests.unit.actions.rig import PINS, START, Rig
from trainer import clock
from trainer.actions import look, quizzing, signing_in, watching
from trainer.errors import Refused
from trainer.settings import Settings
from trainer.store import Store, open_store, record_json

DAY = 24 * 60


@pytest.fixture
def store(place: Settings) -> Iterator[Store]:
    """The small rig."""
    crew.make(place)
    made = open_store(place)
    yield made
    assert made.verify() == []
    made.close()


def watched(rig: Rig) -> str:
    """The id of the record of a clean watch of Ana's by the acting person."""
    sheet_id = crew.sheet(rig, "ana", "met", "steady")
    return watching.commit(rig.desk, sheet_id, PINS[rig.actor], PINS["ana"], device=crew.TABLET).record_id


def test_a_record_written_after_the_clock_ran_back_is_doubtful_and_counts_no_earlier(store: Store) -> None:
    first = watched(crew.rig_on(store, "ben", DAY))
    before = [record_json(each) for each in store.records()]
    # So many minutes may be a clock that was put right; more is one that is wrong.
    near = watched(crew.rig_on(store, "dee", DAY - 4))
    back = watched(crew.rig_on(store, "tom", DAY - 6))
    assert store.doubtful() == {back: "back"}
    written = [record_json(each) for each in store.records()]
    assert written[: len(before)] == before
    assert [each["at"] for each in written[-3:]] == [
        clock.stamp(START + timedelta(minutes=minutes)) for minutes in (DAY, DAY - 4, DAY - 6)
    ]
    # Who looks behind the cell reads which of them is in doubt.
    told = look.evidence_of(crew.rig_on(store, "ana", DAY).desk, "ana", "calls")
    assert {each.record_id: each.doubted for each in told} == {first: None, near: None, back: "back"}
    # It counts after what was there already, whatever its own clock said.
    rows = [row for row in store.evidence_rows(hands=("ana",)) if row.competency == "calls"]
    assert [row.record_id for row in rows] == [first, near, back]
    assert {row.at for row in rows} == {clock.stamp(START + timedelta(minutes=DAY))}


def test_a_quiz_begun_before_the_clock_ran_back_goes_on_and_is_not_closed(store: Store) -> None:
    sitting = quizzing.start(crew.rig_on(store, "ana", DAY).desk, "q")
    back = crew.rig_on(store, "ana").desk
    assert quizzing.start(back, "q").draft_id == sitting.draft_id
    answered = quizzing.answer(back, sitting.draft_id, 0, crew.right(sitting, 0)).sitting
    assert answered.answered == 1
    assert quizzing.close_stale(back) == []


def wrong_pins(rig: Rig) -> Refused:
    """What is said after so many wrong PINs that somebody has to wait."""
    for _ in range(signing_in.FREE_TRIES):
        with pytest.raises(Refused, match="pin-wrong"):
            signing_in.sign_in(rig.desk, "ben", "000111", crew.TABLET)
    with pytest.raises(Refused, match="pin-wait") as caught:
        signing_in.sign_in(rig.desk, "ben", PINS["ben"], crew.TABLET)
    return caught.value


def test_a_lock_out_is_neither_cut_short_nor_stretched_to_days(store: Store) -> None:
    waits = wrong_pins(crew.rig_on(store, "ben", DAY))
    assert waits.values["minutes"] == 1
    # Set back, the clock is a day before the end of the wait; nobody waits longer than the longest wait there is.
    with pytest.raises(Refused, match="pin-wait") as caught:
        signing_in.sign_in(crew.rig_on(store, "ben").desk, "ben", PINS["ben"], crew.TABLET)
    assert int(str(caught.value.values["minutes"])) <= signing_in.LONGEST_WAIT_MINUTES
    later = crew.rig_on(store, "ben", signing_in.LONGEST_WAIT_MINUTES + 1).desk
    assert signing_in.sign_in(later, "ben", PINS["ben"], crew.TABLET).who.hand == "ben"


def test_a_session_opened_before_the_clock_ran_back_ends_and_another_one_begins(store: Store) -> None:
    opened = signing_in.sign_in(crew.rig_on(store, "ben", DAY).desk, "ben", PINS["ben"], crew.TABLET)
    # A clock put right by a little signs nobody out.
    assert signing_in.who(crew.rig_on(store, "ben", DAY - 4).desk, opened.session) is not None
    back = crew.rig_on(store, "ben").desk
    assert signing_in.seconds_left(back, opened.session) == 0
    assert signing_in.who(back, opened.session) is None
    again = signing_in.sign_in(back, "ben", PINS["ben"], crew.TABLET)
    assert signing_in.who(back, again.session) is not None
    assert signing_in.seconds_left(back, again.session) == signing_in.IDLE_SECONDS
