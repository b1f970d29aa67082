"""A tailgate on a real store: every tap in the draft, the tablet locked, one transaction at the end."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

import pytest

from tests.unit.actions.rig import CATALOGUE, PINS, START, Rig
from tests.unit.actions.test_quizzing import taken
from trainer.actions import proposing, signing_in, tailgating, vouching
from trainer.actions.meetings import ANSWERS, ASK, READY, SIGN, TALK, Meeting, items_of
from trainer.core.catalogue import Catalogue, Knowledge
from trainer.core.durations import Duration
from trainer.core.marking import right_answer
from trainer.core.progress import progress
from trainer.core.records import Effect, Joined, Part, Record, Tailgate
from trainer.core.shown import to_handles
from trainer.core.tailgate import LATE, LED, LEFT, THROUGHOUT, drawn_for
from trainer.errors import BadInput, NotFound, Refused
from trainer.store import Person

TODAY = START.date()
SESSION, DEVICE = "session-of-dee", "tablet"


def catalogue() -> Catalogue:
    """The small rig's with a tailgate on hands: three months longer, fifteen at most."""
    bank = CATALOGUE.banks["q"]
    knowledge = Knowledge("q", Duration(months=12), Duration(months=3), Duration(months=15))
    return replace(
        CATALOGUE,
        banks={"q": replace(bank, items=tuple(replace(item, tailgate=True) for item in bank.items))},
        competencies=tuple(
            replace(each, work=("run-in",), needs=replace(each.needs, knowledge=knowledge))
            if each.id == "hands"
            else each
            for each in CATALOGUE.competencies
        ),
    )


@pytest.fixture
def dee(rig: Rig) -> Rig:
    """The driller at the tablet, with Eve and Fay in her crew besides Ana and Ben."""
    made = rig.by("dee").with_catalogue(catalogue())
    for hand in ("eve", "fay"):
        with made.store.transaction() as writing:
            writing.put_person(Person(hand, hand.title()))
        made.write(Joined("night-1", "floorhand"), hand, date(2026, 1, 5))
    return made


def begun(rig: Rig) -> Meeting:
    """A tailgate on hands at its first question."""
    opened = tailgating.open_meeting(rig.desk, "hands", "night-1")
    tailgating.begin(rig.desk, opened.tailgate_id, SESSION)
    return tailgating.turn(rig.desk, opened.tailgate_id, ASK)


def answered(rig: Rig, meeting: Meeting, hand: str, wrong: Iterable[int] = ()) -> Meeting:
    """The same after ``hand`` has answered, those of ``wrong`` (from 0) not right."""
    items = items_of(rig.catalogue, meeting)
    assert items is not None
    tailgating.call_up(rig.desk, meeting.tailgate_id, hand)
    for number, item in enumerate(items):
        drawn = drawn_for(item, meeting.tailgate_id, hand)
        right = to_handles(item.task, drawn.options, right_answer(item.task, {}, {}))
        handle = next(each for each in ("o1", "o2") if each != right) if number in wrong else str(right)
        meeting = tailgating.answer(rig.desk, meeting.tailgate_id, hand, item.id, handle, "en")
    return meeting


def over(rig: Rig, meeting: Meeting) -> Meeting:
    """The same after the answers were looked at."""
    tailgating.turn(rig.desk, meeting.tailgate_id, ANSWERS)
    return tailgating.turn(rig.desk, meeting.tailgate_id, SIGN)


def body_of(record: Record) -> Tailgate:
    assert isinstance(record.body, Tailgate)
    return record.body


def through(rig: Rig, hand: str) -> date | None:
    """Until when that hand's knowledge of hands holds."""
    rows = rig.store.evidence_rows(hands=(hand,))
    parts = progress(rig.catalogue, rows, hand, rig.desk.today)["hands"]
    return next(each.through for each in parts if each.part is Part.KNOWLEDGE)


def test_one_record_each_is_written_at_once_and_only_when_the_driller_vouches(dee: Rig) -> None:
    meeting = begun(dee)
    answered(dee, meeting, "ana")
    answered(dee, meeting, "ben", wrong=[2])
    meeting = over(dee, answered(dee, meeting, "eve"))
    vouching.mark(dee.desk, meeting.tailgate_id, "eve", LATE)
    assert list(dee.store.records(kinds=("tailgate",))) == []

    records = vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)

    assert [(each.hand, body_of(each).present, body_of(each).passed) for each in records] == [
        ("dee", LED, False),
        ("ana", THROUGHOUT, True),
        ("ben", THROUGHOUT, False),
        ("eve", LATE, False),
    ]
    assert {each.by for each in records} == {body_of(each).vouched for each in records} == {"dee"}
    assert {body_of(each).tailgate for each in records} == {records[0].record_id}
    assert len(body_of(records[1]).answers) == len(body_of(records[1]).right) == 3
    rows = [row for row in dee.store.evidence_rows() if row.part is Part.TAILGATE]
    assert [(row.hand, row.effect, row.by) for row in rows if row.effect is Effect.PASS] == [
        ("ana", Effect.PASS, "dee")
    ]
    assert dee.store.drafts(kind="tailgate") == ()
    assert dee.store.verify() == []


def test_a_pass_extends_what_a_quiz_gave_and_attendance_does_not(dee: Rig) -> None:
    for hand in ("ana", "ben"):
        taken(dee.by(hand))
    later = dee.later(days=300)
    meeting = begun(later)
    answered(later, meeting, "ana")
    meeting = over(later, answered(later, meeting, "ben", wrong=[0]))
    vouching.vouch(later.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    assert through(later, "ana") == date(2027, 3, 27)
    assert through(later, "ben") == date(2027, 3, 2)


def test_a_second_press_returns_the_first_records(dee: Rig) -> None:
    meeting = over(dee, answered(dee, begun(dee), "ana"))
    first = vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    assert vouching.vouch(dee.later(minutes=1).desk, meeting.tailgate_id, PINS["dee"], DEVICE) == first
    assert len(list(dee.store.records(kinds=("tailgate",)))) == 2


def test_a_wrong_pin_writes_nothing_and_loses_nothing(dee: Rig) -> None:
    meeting = over(dee, answered(dee, begun(dee), "ana"))
    with pytest.raises(Refused, match="pin-wrong"):
        vouching.vouch(dee.desk, meeting.tailgate_id, "111111", DEVICE)
    assert tailgating.mine(dee.desk) == meeting
    assert list(dee.store.records(kinds=("tailgate",))) == []


def test_it_is_vouched_for_only_once_it_is_over_and_somebody_was_there(dee: Rig) -> None:
    meeting = begun(dee)
    with pytest.raises(Refused, match="tailgate-not-over"):
        vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    over(dee, meeting)
    with pytest.raises(Refused, match="tailgate-nobody"):
        vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)


def test_every_tap_is_in_the_draft_before_it_returns(dee: Rig) -> None:
    meeting = begun(dee)
    items = items_of(dee.catalogue, meeting)
    assert items is not None
    tailgating.call_up(dee.desk, meeting.tailgate_id, "ana")
    assert tailgating.mine(dee.desk).now == "ana"  # type: ignore[union-attr]
    after = tailgating.answer(dee.desk, meeting.tailgate_id, "ana", items[0].id, "o3", "es")
    kept = tailgating.mine(dee.desk)
    assert kept == after
    person = after.attendee("ana")
    assert person is not None
    assert list(person.answers) == [items[0].id]
    assert (person.how, person.language) == (THROUGHOUT, "es")


def test_the_second_half_of_a_double_tap_answers_nothing(dee: Rig) -> None:
    meeting = begun(dee)
    items = items_of(dee.catalogue, meeting)
    assert items is not None
    tailgating.call_up(dee.desk, meeting.tailgate_id, "ana")
    first = tailgating.answer(dee.desk, meeting.tailgate_id, "ana", items[0].id, "o1", "en")
    assert tailgating.answer(dee.desk, meeting.tailgate_id, "ana", items[0].id, "o2", "en") == first
    assert tailgating.answer(dee.desk, meeting.tailgate_id, "ben", items[0].id, "o2", "en") == first


def test_a_wet_thumb_takes_its_last_answer_back_until_the_next_has_the_tablet(dee: Rig) -> None:
    meeting = answered(dee, begun(dee), "ana", wrong=[2])
    back = tailgating.take_back(dee.desk, meeting.tailgate_id)
    assert back.now == "ana"
    assert len(back.attendee("ana").answers) == 2  # type: ignore[union-attr]
    answered(dee, meeting, "ben")
    tailgating.call_up(dee.desk, meeting.tailgate_id, "eve")
    assert tailgating.take_back(dee.desk, meeting.tailgate_id).has_answered("ben")


def test_nobody_answers_once_the_answers_were_shown(dee: Rig) -> None:
    meeting = answered(dee, begun(dee), "ana")
    tailgating.turn(dee.desk, meeting.tailgate_id, ANSWERS)
    assert tailgating.turn(dee.desk, meeting.tailgate_id, ASK).step == ANSWERS
    assert tailgating.call_up(dee.desk, meeting.tailgate_id, "ben").now == ""
    late = vouching.mark(dee.desk, tailgating.turn(dee.desk, meeting.tailgate_id, SIGN).tailgate_id, "ben", THROUGHOUT)
    assert vouching.outcomes(dee.desk, late) == {"ana": True, "ben": False}


def test_everybody_gets_the_same_questions_and_options_in_his_own_order(dee: Rig) -> None:
    meeting = begun(dee)
    answered(dee, meeting, "ana")
    meeting = over(dee, answered(dee, meeting, "ben"))
    records = vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    assert len({body_of(each).items for each in records}) == 1
    assert len(body_of(records[0]).items) == 3


def test_the_next_tailgate_asks_what_this_crew_was_not_asked_yet(dee: Rig) -> None:
    asked: set[str] = set()
    for _ in range(3):
        meeting = over(dee, answered(dee, begun(dee), "ana"))
        assert not asked & set(meeting.items)
        asked |= set(meeting.items)
        vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)


def test_people_of_other_crews_answer_too_and_guests_stand_as_names_only(dee: Rig) -> None:
    meeting = begun(dee)
    assert ("tom", "Tom", "day-1") in vouching.others_here(dee.desk, meeting)
    meeting = over(dee, answered(dee, meeting, "tom"))
    vouching.add_guest(dee.desk, meeting.tailgate_id, "  Ike Farrow,  cementing ")
    vouching.add_guest(dee.desk, meeting.tailgate_id, "Ike Farrow, cementing")
    records = vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    assert [(each.hand, body_of(each).passed) for each in records] == [("dee", False), ("tom", True)]
    (guest,) = body_of(records[0]).guests
    assert dee.store.text(guest) == "Ike Farrow, cementing"
    assert body_of(records[1]).guests == ()
    assert vouching.held(dee.desk, meeting.tailgate_id).guests == ("Ike Farrow, cementing",)
    with pytest.raises(BadInput, match="tailgate-guest"):
        vouching.add_guest(dee.desk, begun(dee).tailgate_id, "  ")


def test_the_leader_and_strangers_do_not_answer(dee: Rig) -> None:
    meeting = begun(dee)
    with pytest.raises(Refused, match="tailgate-leader"):
        tailgating.call_up(dee.desk, meeting.tailgate_id, "dee")
    with pytest.raises(NotFound, match="no-hand"):
        tailgating.call_up(dee.desk, meeting.tailgate_id, "nobody")
    over(dee, meeting)
    with pytest.raises(Refused, match="tailgate-leader"):
        vouching.mark(dee.desk, meeting.tailgate_id, "dee", THROUGHOUT)
    with pytest.raises(BadInput, match="tailgate-how"):
        vouching.mark(dee.desk, meeting.tailgate_id, "ana", LED)


def test_who_left_early_attended(dee: Rig) -> None:
    meeting = over(dee, answered(dee, begun(dee), "ana"))
    assert vouching.outcomes(dee.desk, meeting) == {"ana": True}
    assert vouching.outcomes(dee.desk, vouching.mark(dee.desk, meeting.tailgate_id, "ana", LEFT)) == {"ana": False}
    assert vouching.outcomes(dee.desk, vouching.mark(dee.desk, meeting.tailgate_id, "ana", "")) == {}


def test_job_and_form_are_kept_and_the_form_is_there_again_next_time(dee: Rig) -> None:
    meeting = begun(dee)
    tailgating.describe(
        dee.desk, meeting.tailgate_id, job=" JSA 118 ", number="HSE-07", revision="4", header="Rig 7 tailgate"
    )
    over(dee, answered(dee, meeting, "ana"))
    body = body_of(vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)[0])
    assert dee.store.text(body.job or "") == "JSA 118"
    following = tailgating.open_meeting(dee.desk, "hands", "night-1")
    assert (following.job, following.number, following.revision, following.header) == (
        "", "HSE-07", "4", "Rig 7 tailgate",
    )  # fmt: skip


def test_only_the_session_it_goes_round_on_is_locked_and_only_a_pin_opens_it(dee: Rig) -> None:
    opened = tailgating.open_meeting(dee.desk, "hands", "night-1")
    assert not tailgating.is_locked(dee.desk, SESSION)
    tailgating.begin(dee.desk, opened.tailgate_id, SESSION)
    assert tailgating.is_locked(dee.desk, SESSION)
    assert not tailgating.is_locked(dee.desk, "office PC")
    with pytest.raises(Refused, match="tailgate-locked"):
        tailgating.drop(dee.desk, opened.tailgate_id)
    with pytest.raises(Refused, match="pin-wrong"):
        tailgating.release(dee.desk, opened.tailgate_id, "111111", DEVICE)
    assert tailgating.is_locked(dee.desk, SESSION)
    tailgating.release(dee.desk, opened.tailgate_id, PINS["dee"], DEVICE)
    assert not tailgating.is_locked(dee.desk, SESSION)


def test_a_dead_tablet_is_gone_on_with_on_another_one(dee: Rig) -> None:
    meeting = answered(dee, begun(dee), "ana")
    assert tailgating.take_up(dee.desk, meeting.tailgate_id, "another tablet").has_answered("ana")
    assert tailgating.is_locked(dee.desk, "another tablet")
    assert not tailgating.is_locked(dee.desk, SESSION)
    assert "another tablet" not in str(dee.store.draft(meeting.tailgate_id))


def test_what_was_thrown_away_is_gone_and_writes_nothing(dee: Rig) -> None:
    meeting = answered(dee, begun(dee), "ana")
    tailgating.release(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    tailgating.drop(dee.desk, meeting.tailgate_id)
    assert tailgating.mine(dee.desk) is None
    with pytest.raises(NotFound, match="no-draft"):
        vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)


def test_there_is_one_at_a_time_and_nobody_opens_anothers(dee: Rig) -> None:
    first = tailgating.open_meeting(dee.desk, "hands", "night-1")
    assert tailgating.open_meeting(dee.desk, "hands", "day-1") == first
    with pytest.raises(NotFound, match="no-draft"):
        tailgating.begin(dee.by("tom").desk, first.tailgate_id, SESSION)
    with pytest.raises(NotFound, match="no-competency"):
        tailgating.open_meeting(dee.by("tom").desk, "calls", "night-1")


def test_a_hand_holds_no_tailgate_and_neither_does_the_command_line(dee: Rig) -> None:
    with pytest.raises(Refused, match="may-not"):
        tailgating.open_meeting(dee.by("ana").desk, "hands", "night-1")
    assert tailgating.open_meeting(dee.by("cy").desk, "hands", "night-1").leader == "cy"


def test_questions_rewritten_in_the_middle_are_not_marked(dee: Rig) -> None:
    meeting = over(dee, answered(dee, begun(dee), "ana"))
    bank = dee.catalogue.banks["q"]
    newer = replace(bank, items=tuple(replace(item, version=2) for item in bank.items))
    changed = dee.with_catalogue(replace(dee.catalogue, banks={"q": newer}))
    with pytest.raises(BadInput, match="tailgate-rewritten"):
        vouching.vouch(changed.desk, meeting.tailgate_id, PINS["dee"], DEVICE)


def test_it_counts_on_the_day_of_the_talk_also_when_it_is_vouched_for_later(dee: Rig) -> None:
    meeting = over(dee, answered(dee, begun(dee), "ana"))
    records = vouching.vouch(dee.later(hours=20).desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    assert {each.day for each in records} == {TODAY}
    assert body_of(records[0]).entered == "2026-03-03"


def test_a_sheet_of_paper_gives_the_same_records_on_the_day_it_was_held(dee: Rig) -> None:
    held = TODAY - timedelta(days=3)
    meeting = tailgating.open_paper(dee.desk, "hands", "night-1", held, "18:00-06:00")
    vouching.mark(dee.desk, meeting.tailgate_id, "ana", THROUGHOUT, passed=True)
    vouching.mark(dee.desk, meeting.tailgate_id, "ben", THROUGHOUT)
    vouching.mark(dee.desk, meeting.tailgate_id, "eve", LATE, passed=True)
    records = vouching.vouch(dee.desk, meeting.tailgate_id, PINS["dee"], DEVICE)
    assert [(each.hand, each.day, body_of(each).passed) for each in records] == [
        ("dee", held, False), ("ana", held, True), ("ben", held, False), ("eve", held, False),
    ]  # fmt: skip
    body = body_of(records[1])
    assert (body.paper, body.tour, body.entered, body.items) == (True, "18:00-06:00", TODAY.isoformat(), ())
    assert not tailgating.is_locked(dee.desk, SESSION)


def test_paper_from_tomorrow_or_on_no_tour_is_refused_and_who_was_not_here_yet_is_not_on_it(dee: Rig) -> None:
    with pytest.raises(BadInput, match="sheet-future"):
        tailgating.open_paper(dee.desk, "hands", "night-1", TODAY + timedelta(days=1), "")
    with pytest.raises(BadInput, match="sheet-form"):
        tailgating.open_paper(dee.desk, "hands", "night-1", TODAY, "nights")
    assert tailgating.open_paper(dee.desk, "hands", "night-1", date(2026, 1, 2), "").people == ()


def test_the_printed_sheet_holds_the_talk_the_questions_and_the_form(dee: Rig) -> None:
    sheet = tailgating.sheet(dee.desk, "hands", "night-1")
    assert (len(sheet.questions), sheet.lines) == (3, 20)
    assert sheet.points
    meeting = begun(dee)
    tailgating.describe(dee.desk, meeting.tailgate_id, job="P-9", number="", revision="", header="")
    own = tailgating.sheet(dee.desk, "hands", tailgate_id=meeting.tailgate_id)
    items = items_of(dee.catalogue, meeting)
    assert items is not None
    assert [each.text for each in own.questions] == [item.text for item in items]
    assert all(each.options[each.right]["en"].startswith("say good") for each in own.questions)
    assert own.job == "P-9"


def test_topics_are_offered_for_the_drillers_own_crew_with_what_it_misses_and_who_runs_out_first(dee: Rig) -> None:
    taken(dee.by("ben"))
    taken(dee.by("ana").later(days=1), ["must-where"])
    taken(dee.by("ana").later(days=2))
    offer = proposing.offer(dee.later(days=300).desk, work="run-in")
    assert (offer.crew, offer.topics, offer.works) == ("night-1", ("hands",), ("run-in",))
    (proposal,) = offer.proposals
    by_kind = {why.kind: why for why in proposal.whys}
    assert by_kind["due"].hand == "ben"
    assert set(by_kind) == {"due", "work", "old"}
    soon = proposing.offer(dee.later(days=100).desk).proposals[0]
    (missed,) = [why for why in soon.whys if why.kind == "missed"]
    assert [(each.objective, each.critical) for each in missed.misses] == [("must-where", True)]


def test_another_crew_has_its_own_topics_and_a_pass_that_extends_nothing_is_no_reason(dee: Rig) -> None:
    taken(dee.by("ben"))
    day_crew = proposing.offer(dee.desk, "day-1")
    assert (day_crew.crew, day_crew.proposals) == ("day-1", ())
    # On the day of the quiz a tailgate adds nothing to a year.
    kinds = [why.kind for each in proposing.offer(dee.desk).proposals for why in each.whys]
    assert "due" not in kinds


def test_the_session_is_kept_while_it_is_looked_at_as_active(dee: Rig) -> None:
    opened = signing_in.sign_in(dee.desk, "dee", PINS["dee"], DEVICE)
    for minutes in range(5, 60, 5):
        assert signing_in.who(dee.later(minutes=minutes).desk, opened.session, active=True) is not None
    assert signing_in.who(dee.later(minutes=80).desk, opened.session) is None


def test_the_steps_come_in_their_order(dee: Rig) -> None:
    opened = tailgating.open_meeting(dee.desk, "hands", "night-1")
    assert tailgating.turn(dee.desk, opened.tailgate_id, ASK).step == READY
    begun_one = tailgating.begin(dee.desk, opened.tailgate_id, SESSION)
    assert tailgating.begin(dee.desk, opened.tailgate_id, SESSION) == begun_one
    assert tailgating.turn(dee.desk, opened.tailgate_id, TALK, 2).page == 2
    assert tailgating.turn(dee.desk, opened.tailgate_id, TALK, 9).page == 2
    assert tailgating.turn(dee.desk, opened.tailgate_id, SIGN).step == TALK
