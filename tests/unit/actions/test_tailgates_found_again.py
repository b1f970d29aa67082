"""On which day a tailgate counts, a sheet of paper put right, and one that is on record found again."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from tests.unit.actions.rig import PINS, Rig
from tests.unit.actions.test_tailgating import DEVICE, SESSION, TODAY, answered, begun, catalogue, dee, over
from trainer.actions import tailgating, tailgating_held, tailgating_paper, vouching
from trainer.actions.meetings import Meeting, last_begun
from trainer.core.records import Void
from trainer.core.tailgate import LATE, THROUGHOUT
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import NewRecord

__all__ = ["dee"]

NIGHT, DAY = "18:00-06:00", "06:00-18:00"


def at(rig: Rig, clock: str, day: int = 2) -> Rig:
    """The same at that time of the site, which is six hours behind."""
    hours, minutes = clock.split(":")
    return replace(rig, now=datetime(2026, 3, day, int(hours), int(minutes), tzinfo=UTC) + timedelta(hours=6))


@pytest.mark.parametrize(
    ("crew", "clock", "held"),
    [
        ("night-1", "02:06", date(2026, 3, 1)),
        ("night-1", "17:40", date(2026, 3, 2)),
        ("night-1", "23:30", date(2026, 3, 2)),
        ("day-1", "05:40", date(2026, 3, 2)),
        ("day-1", "12:00", date(2026, 3, 2)),
        ("day-1", "18:30", date(2026, 3, 2)),
    ],
)
def test_a_talk_on_the_tablet_counts_on_the_day_its_tour_began_and_never_later_than_today(
    dee: Rig, crew: str, clock: str, held: date
) -> None:
    now = at(dee, clock)
    opened = tailgating.open_meeting(now.desk, "hands", crew)
    assert tailgating.begin(now.desk, opened.tailgate_id, SESSION).held == held.isoformat()


def test_the_records_of_a_talk_after_midnight_count_on_the_evening_before_as_those_of_paper_do(dee: Rig) -> None:
    now = at(dee, "02:06")
    meeting = over(now, answered(now, begun(now), "ana"))
    live = vouching.vouch(now.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    paper = tailgating.open_paper(now.desk, "hands", "night-1", last_begun(now.desk, NIGHT), NIGHT)
    vouching.mark(now.desk, paper.tailgate_id, "ana", THROUGHOUT, passed=True)
    entered = vouching.vouch(now.desk, paper.tailgate_id, PINS["dee"], DEVICE)
    assert {each.day for each in (*live, *entered)} == {date(2026, 3, 1)}


def test_a_sheet_of_a_tour_that_has_not_begun_is_refused_but_for_the_hour_before_it(dee: Rig) -> None:
    now = at(dee, "02:06")
    with pytest.raises(BadInput, match="tailgate-tour-ahead") as refused:
        tailgating.open_paper(now.desk, "hands", "night-1", date(2026, 3, 2), NIGHT)
    assert refused.value.values == {"tour": NIGHT, "day": date(2026, 3, 2), "began": date(2026, 3, 1)}
    with pytest.raises(BadInput, match="tailgate-tour-ahead"):
        tailgating.open_paper(at(dee, "16:59").desk, "hands", "night-1", date(2026, 3, 2), NIGHT)
    assert tailgating.mine(now.desk) is None
    waiting = tailgating.open_paper(at(dee, "17:05").desk, "hands", "night-1", date(2026, 3, 2), NIGHT)
    assert (waiting.held, waiting.tour) == ("2026-03-02", NIGHT)


def on_paper(rig: Rig) -> Meeting:
    """A sheet of the night crew, Ana passed and Ben late on it."""
    opened = tailgating.open_paper(rig.desk, "hands", "night-1", TODAY - timedelta(days=1), NIGHT)
    vouching.mark(rig.desk, opened.tailgate_id, "ana", THROUGHOUT, passed=True)
    return vouching.mark(rig.desk, opened.tailgate_id, "ben", LATE)


def test_a_sheet_put_right_keeps_the_marks_and_the_records_to_come_of_whoever_stays(dee: Rig) -> None:
    was = on_paper(dee)
    held = TODAY - timedelta(days=2)
    tailgating_paper.correct(dee.desk, was.tailgate_id, "hands", "day-1", held, DAY)
    now = tailgating.mine(dee.desk)
    assert now is not None
    assert (now.crew, now.held, now.tour, now.is_paper) == ("day-1", held.isoformat(), DAY, True)
    # Of the crew that was wrong only those stay who are marked as there.
    assert [each.hand for each in now.people] == ["ana", "ben", "tom"]
    assert [now.attendee(hand) for hand in ("ana", "ben")] == [was.attendee(hand) for hand in ("ana", "ben")]
    records = vouching.vouch(dee.desk, was.tailgate_id, PINS["dee"], DEVICE)
    assert [(each.hand, each.day) for each in records] == [("dee", held), ("ana", held), ("ben", held)]


def test_who_was_not_here_on_the_day_put_right_comes_off_the_sheet(dee: Rig) -> None:
    was = on_paper(dee)
    now = tailgating_paper.correct(dee.desk, was.tailgate_id, "hands", "night-1", date(2026, 1, 4), NIGHT)
    assert now.people == ()


def test_only_ones_own_open_sheet_of_paper_is_put_right_and_only_to_what_can_be(dee: Rig) -> None:
    was = on_paper(dee)
    tomorrow = TODAY + timedelta(days=1)
    for day, tour, code in (
        (tomorrow, DAY, "sheet-future"), (TODAY, NIGHT, "tailgate-tour-ahead"), (TODAY, "x", "sheet-form"),
    ):  # fmt: skip
        with pytest.raises(BadInput, match=code):
            tailgating_paper.correct(dee.desk, was.tailgate_id, "hands", "night-1", day, tour)
    with pytest.raises(NotFound, match="no-competency"):
        tailgating_paper.correct(dee.desk, was.tailgate_id, "calls", "night-1", TODAY, DAY)
    with pytest.raises(NotFound, match="no-draft"):
        tailgating_paper.correct(dee.by("tom").desk, was.tailgate_id, "hands", "night-1", TODAY, DAY)
    with pytest.raises(Refused, match="may-not"):
        tailgating_paper.correct(dee.by("ana").desk, was.tailgate_id, "hands", "night-1", TODAY, DAY)
    assert tailgating.mine(dee.desk) == was
    tailgating.drop(dee.desk, was.tailgate_id)
    live = begun(dee)
    assert tailgating_paper.correct(dee.desk, live.tailgate_id, "hands", "day-1", TODAY, DAY) == live


def held_one(rig: Rig) -> str:
    """The id of a talk on record: Ana passed, Ben did not, Eve unanswered, and a guest."""
    meeting = begun(rig)
    answered(rig, meeting, "ana")
    meeting = over(rig, answered(rig, meeting, "ben", wrong=[2]))
    vouching.mark(rig.desk, meeting.tailgate_id, "eve", THROUGHOUT)
    vouching.add_guest(rig.desk, meeting.tailgate_id, "Ike Farrow, cementing")
    tailgating.describe(rig.desk, meeting.tailgate_id, job="JSA 9", number="F-1", revision="B", header="Our meeting")
    vouching.vouch(rig.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    return meeting.tailgate_id


def test_a_talk_on_record_has_all_that_its_sheet_says(dee: Rig) -> None:
    talk = tailgating_held.talk(dee.desk, held_one(dee))
    assert (talk.number, talk.revision, talk.header, talk.held.job) == ("F-1", "B", "Our meeting", "JSA 9")
    assert [(each.hand, each.passed, each.answered, each.right) for each in talk.held.people] == [
        ("ana", True, 3, 3), ("ben", False, 3, 2), ("eve", False, 0, 0),
    ]  # fmt: skip
    assert talk.held.guests == ("Ike Farrow, cementing",)
    assert talk.names["ana"] == "Ana"
    assert (talk.places["dee"].position, talk.places["dee"].crew) == ("driller", "night-1")
    assert [(each.answered, each.right) for each in talk.questions] == [(2, 2), (2, 2), (2, 1)]
    bank = dee.catalogue.banks["q"]
    assert [each.text for each in talk.questions] == [
        item.text for each in talk.questions if (item := bank.item(each.item))
    ]
    assert talk.voided == {}


def test_a_question_reworded_since_is_not_told_in_other_words(dee: Rig) -> None:
    tailgate_id, bank = held_one(dee), dee.catalogue.banks["q"]
    newer = replace(bank, items=tuple(replace(item, version=2) for item in bank.items))
    changed = dee.with_catalogue(replace(catalogue(), banks={"q": newer}))
    asked = tailgating_held.talk(changed.desk, tailgate_id).questions
    assert [(each.text, each.version, each.answered) for each in asked] == [(None, "1", 2)] * 3


def test_a_record_of_it_that_was_voided_says_so(dee: Rig) -> None:
    tailgate_id = held_one(dee)
    ana = vouching.held(dee.desk, tailgate_id).people[0].record.record_id
    with dee.store.transaction() as writing:
        why = writing.keep_text("Wrong name")
        writing.append(NewRecord(next(dee.source), "void", Void(ana, why), TODAY, "cy", "ana", dee.desk.at))
    (void,) = tailgating_held.talk(dee.desk, tailgate_id).voided.items()
    assert (void[0], void[1].by, void[1].why) == (ana, "Cy", "Wrong name")


def test_the_latest_talks_are_the_actors_own_of_two_weeks_the_newest_first(dee: Rig) -> None:
    first = held_one(dee)
    second = held_one(dee.later(days=1))
    soon = dee.later(days=2)
    assert [each.tailgate_id for each in tailgating_held.latest(soon.desk)] == [second, first]
    assert tailgating_held.latest(soon.desk)[1].day == TODAY
    assert tailgating_held.latest(soon.by("tom").desk) == ()
    assert [each.tailgate_id for each in tailgating_held.latest(dee.later(days=15).desk)] == [second]
    assert tailgating_held.latest(dee.later(days=16).desk) == ()
    # A sheet of paper is found again by the day on which it came in.
    old = tailgating.open_paper(soon.desk, "hands", "night-1", TODAY - timedelta(days=30), NIGHT)
    vouching.mark(soon.desk, old.tailgate_id, "ana", LATE)
    vouching.vouch(soon.desk, old.tailgate_id, PINS["dee"], DEVICE)
    assert tailgating_held.latest(soon.desk)[0].tailgate_id == old.tailgate_id
    with pytest.raises(NotFound, match="no-record"):
        tailgating_held.talk(soon.by("tom").desk, first)
