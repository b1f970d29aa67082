"""A quiz is drawn once, kept at every answer, marked fairly, and taken again only by the rules."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, replace
from datetime import date

import pytest

from tests.unit.actions.rig import CATALOGUE, Rig
from tests.unit.assessment import samples
from trainer.actions import quizzing, talking
from trainer.actions.sittings import Sitting
from trainer.core.marking import right_answer
from trainer.core.records import Effect, Part, QuizTaken, Record
from trainer.core.shown import to_handles
from trainer.core.tasks import Answer, WorkOut
from trainer.core.workings import FUNCTIONS
from trainer.errors import BadInput, NotFound, Refused


def right(sitting: Sitting, position: int) -> Answer:
    """The right answer there, in handles."""
    item, drawn = sitting.item(position)
    return to_handles(item.task, drawn.options, right_answer(item.task, drawn.parameters, FUNCTIONS))


def wrong(sitting: Sitting, position: int) -> Answer:
    """A wrong answer there, in handles."""
    item, drawn = sitting.item(position)
    key = right_answer(item.task, drawn.parameters, FUNCTIONS)
    if isinstance(item.task, WorkOut):
        return "1"
    if isinstance(key, tuple):
        return to_handles(item.task, drawn.options, tuple(reversed(key)) if len(key) == 4 else key[:1])
    return to_handles(item.task, drawn.options, next(each for each in drawn.options if each != key))


def answered(rig: Rig, sitting: Sitting, missed: Iterable[str] = ()) -> Sitting:
    """Every open item answered, those of the objectives ``missed`` wrongly."""
    while (position := sitting.position) is not None:
        item, _ = sitting.item(position)
        given = wrong(sitting, position) if item.objective in set(missed) else right(sitting, position)
        sitting = quizzing.answer(rig.desk, sitting.draft_id, position, given).sitting
    return sitting


def taken(rig: Rig, missed: Iterable[str] = ()) -> Record:
    """A whole quiz."""
    sitting = answered(rig, quizzing.start(rig.desk, "q"), missed)
    return quizzing.finish(rig.desk, sitting.draft_id)[0]


def body_of(record: Record) -> QuizTaken:
    """The record's body."""
    assert isinstance(record.body, QuizTaken)
    return record.body


def test_a_passed_quiz_is_a_record_and_evidence_of_knowledge_today(rig: Rig) -> None:
    # 03:00 UTC is still the evening before at the site.
    night = rig.later(hours=13)
    record = taken(night)
    body = body_of(record)
    assert (body.passed, body.points, body.cut, body.critical_missed) == (True, 12, 10, ())
    assert (record.by, record.hand, record.day) == ("ana", "ana", date(2026, 3, 2))
    rows = [row for row in rig.store.evidence_rows(hands=("ana",)) if row.record_id == record.record_id]
    assert [(row.part, row.effect, row.by, row.competency) for row in rows] == [
        (Part.KNOWLEDGE, Effect.PASS, "ana", "hands")
    ]
    assert rig.store.drafts(owner="ana") == ()


def test_a_critical_miss_fails_a_quiz_with_the_points_of_a_pass(rig: Rig) -> None:
    body = body_of(taken(rig, ["must-timing"]))
    assert (body.points, body.critical_missed, body.passed) == (11, ("must-timing",), False)
    assert rig.store.evidence_rows(hands=("ana",))[-1].effect is Effect.FAIL


def test_a_started_quiz_is_resumed_and_never_redrawn(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    one = quizzing.answer(rig.desk, sitting.draft_id, 0, right(sitting, 0)).sitting
    again = quizzing.start(rig.later(hours=3).desk, "q")
    assert again == one
    assert again.form == sitting.form
    assert quizzing.may_start(rig.later(hours=3).desk, "q").ok


def test_two_hands_get_two_forms(rig: Rig) -> None:
    assert quizzing.start(rig.desk, "q").form != quizzing.start(rig.by("ben").desk, "q").form


def test_the_first_final_answer_counts_and_a_repeat_changes_nothing(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    first = quizzing.answer(rig.desk, sitting.draft_id, 0, wrong(sitting, 0))
    second = quizzing.answer(rig.desk, sitting.draft_id, 0, right(sitting, 0))
    assert second.sitting.given == first.sitting.given
    assert not second.item.marked.right
    kept = quizzing.keep(rig.desk, sitting.draft_id, 0, right(sitting, 0))
    assert kept.given == first.sitting.given


def test_a_critical_miss_is_said_at_once_and_an_ordinary_one_is_not(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    assert quizzing.just_missed(sitting) is None
    for position in range(12):
        is_critical = sitting.item(position)[0].objective.startswith("must")
        sitting = quizzing.answer(rig.desk, sitting.draft_id, position, wrong(sitting, position)).sitting
        missed = quizzing.just_missed(sitting)
        assert (missed is not None) is is_critical
        assert missed is None or (missed.item == sitting.item(position)[0] and missed.marked.whys)


def test_an_unfinished_tap_is_kept_and_shown_again_in_handles(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    quizzing.keep(rig.desk, sitting.draft_id, 0, right(sitting, 0))
    again = quizzing.start(rig.desk, "q")
    assert again.kept(0) == right(again, 0)
    assert again.position == 0
    assert again.answered == 0


def test_an_answer_that_cannot_be_read_is_refused_and_nothing_is_kept(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    position = next(n for n in range(12) if isinstance(sitting.item(n)[0].task, WorkOut))
    with pytest.raises(BadInput) as caught:
        quizzing.answer(rig.desk, sitting.draft_id, position, "about 90")
    assert caught.value.code == "not-a-number"
    with pytest.raises(BadInput):
        quizzing.answer(rig.desk, sitting.draft_id, 99, "o1")
    assert quizzing.start(rig.desk, "q").given == {}


def test_nothing_that_is_shown_tells_the_key(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    for position in range(12):
        sent = json.dumps(asdict(sitting.shown(position, "en")))
        for secret in ("good", "bad-", "why", "reason", "then", '"right"', "first", "must", "load-on-slips", "mistake"):
            assert secret not in sent.replace("say good", "").replace("say bad-", "").replace("say first", "").replace(
                "ask must", ""
            )


def test_finishing_twice_writes_one_record_and_gives_the_same_result(rig: Rig) -> None:
    sitting = answered(rig, quizzing.start(rig.desk, "q"), ["grip-1"])
    first = quizzing.finish(rig.desk, sitting.draft_id)
    again = quizzing.finish(rig.later(minutes=1).desk, sitting.draft_id)
    assert again == first
    assert len(list(rig.store.records(kinds=("quiz",)))) == 1


def test_a_quiz_with_open_items_is_not_finished(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    with pytest.raises(Refused) as caught:
        quizzing.finish(rig.desk, sitting.draft_id)
    assert caught.value.values == {"left": 12}


def test_nobody_answers_for_somebody_else(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    with pytest.raises(NotFound):
        quizzing.answer(rig.by("ben").desk, sitting.draft_id, 0, "o1")
    with pytest.raises(NotFound):
        quizzing.finish(rig.by("ben").desk, sitting.draft_id)


def test_twelve_hours_after_its_last_answer_it_closes_with_blanks_wrong(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    late = rig.later(hours=6)
    quizzing.answer(late.desk, sitting.draft_id, 0, right(sitting, 0))
    quizzing.keep(late.desk, sitting.draft_id, 1, right(sitting, 1))
    assert quizzing.close_stale(rig.later(hours=17, minutes=59).desk) == []
    # Whoever looks next closes it; the quiz stays the hand's own.
    (record,) = quizzing.close_stale(rig.by("dee").later(hours=18).desk)
    body = body_of(record)
    assert (record.by, record.hand, record.record_id) == ("ana", "ana", sitting.draft_id)
    assert (body.points, body.passed) == (1, False)
    assert sum(each is None for each in body.answers.values()) == 11
    assert quizzing.close_stale(rig.later(hours=19).desk) == []
    with pytest.raises(NotFound):
        quizzing.answer(rig.later(hours=19).desk, sitting.draft_id, 1, "o1")


def test_a_stale_quiz_counts_as_a_try_when_the_next_one_is_started(rig: Rig) -> None:
    quizzing.start(rig.desk, "q")
    allowed = quizzing.may_start(rig.later(hours=13).desk, "q")
    assert (allowed.ok, allowed.code, allowed.tries_left) == (False, "too-soon", 2)


def test_a_miss_waits_for_the_next_tour_and_then_gets_other_variants(rig: Rig) -> None:
    first = body_of(taken(rig, ["must-where"]))
    with pytest.raises(Refused) as caught:
        quizzing.start(rig.later(hours=11, minutes=59).desk, "q")
    assert caught.value.code == "quiz-too-soon"
    assert caught.value.values == {"day": "2026-03-02", "time": "20:00"}
    again = quizzing.start(rig.later(hours=12).desk, "q")
    criticals = {name for name in first.items if name.startswith("must")}
    assert not criticals & {f"{each.item_id}:{each.version}" for each in again.form.items}


def test_after_three_misses_in_seven_days_only_a_talk_opens_it_again(rig: Rig) -> None:
    for tour in range(3):
        last = taken(rig.later(hours=12 * tour), ["must-where"])
    night = rig.later(hours=36)
    allowed = quizzing.may_start(night.desk, "q")
    assert (allowed.ok, allowed.code) == (False, "talk-first")
    assert allowed.since == rig.later(days=7).now
    talking.talk_done(night.by("dee").desk, last.record_id)
    again = quizzing.may_start(night.later(minutes=1).desk, "q")
    assert (again.ok, again.tries_left) == (True, 3)


def test_a_passed_quiz_may_be_taken_again_at_once(rig: Rig) -> None:
    taken(rig)
    assert quizzing.may_start(rig.later(minutes=1).desk, "q").ok


def test_items_that_others_had_come_later(rig: Rig) -> None:
    others = [taken(rig.by(hand)) for hand in ("ben", "dee")]
    used = {name for record in others for name in body_of(record).items if name.startswith("must")}
    third = {f"{each.item_id}:{each.version}" for each in quizzing.start(rig.desk, "q").form.items}
    assert len(used) == 6
    assert not used & third


def test_the_review_shows_what_was_missed_why_and_where_it_is_taught(rig: Rig) -> None:
    record = taken(rig, ["must-where", "grip-1"])
    found = quizzing.review(rig.desk, record.record_id)
    assert found.result is not None
    missed = found.result.missed
    assert [each.item.objective for each in missed] == ["must-where", "grip-1"]
    assert all(each.marked.whys for each in missed)
    assert found.lesson == "lesson"
    assert CATALOGUE.lessons["lesson"].scene(missed[0].item.scene) is not None


def test_a_review_is_for_the_hand_and_his_leaders_only(rig: Rig) -> None:
    record = taken(rig)
    assert quizzing.review(rig.by("dee").desk, record.record_id).record == record
    with pytest.raises(Refused):
        quizzing.review(rig.by("ben").desk, record.record_id)


def test_a_review_survives_a_bank_that_was_rewritten(rig: Rig) -> None:
    record = taken(rig)
    bank = CATALOGUE.banks["q"]
    newer = replace(bank, items=tuple(replace(each, version=2) for each in bank.items))
    found = quizzing.review(rig.with_catalogue(replace(CATALOGUE, banks={"q": newer})).desk, record.record_id)
    assert found.result is None
    assert found.body.points == 12


def test_a_sitting_whose_items_were_rewritten_begins_anew(rig: Rig) -> None:
    old = quizzing.start(rig.desk, "q")
    bank = CATALOGUE.banks["q"]
    newer = replace(bank, items=tuple(replace(each, version=2) for each in bank.items))
    rewritten = rig.with_catalogue(replace(CATALOGUE, banks={"q": newer}))
    with pytest.raises(BadInput) as caught:
        quizzing.answer(rewritten.desk, old.draft_id, 0, "o1")
    assert caught.value.code == "quiz-changed"
    again = quizzing.start(rewritten.desk, "q")
    assert again.draft_id != old.draft_id
    assert [draft.draft_id for draft in rig.store.drafts(owner="ana")] == [again.draft_id]


def test_who_read_the_items_aloud_stands_in_the_record(rig: Rig) -> None:
    sitting = quizzing.start(rig.desk, "q")
    with pytest.raises(NotFound):
        quizzing.read_aloud(rig.desk, sitting.draft_id, "nobody")
    quizzing.read_aloud(rig.desk, sitting.draft_id, "dee")
    record, _ = quizzing.finish(rig.desk, answered(rig, sitting).draft_id)
    assert body_of(record).read_aloud_by == "dee"


def test_a_bank_that_is_too_small_starts_no_quiz(rig: Rig) -> None:
    small = rig.with_catalogue(replace(CATALOGUE, banks={"q": samples.bank(per_objective=1)}))
    with pytest.raises(BadInput) as caught:
        quizzing.start(small.desk, "q")
    assert caught.value.code == "form-shortfall"
    assert rig.store.drafts(owner="ana") == ()


def test_an_unknown_quiz_is_not_found(rig: Rig) -> None:
    with pytest.raises(NotFound):
        quizzing.may_start(rig.desk, "nothing")


def test_everything_written_verifies(rig: Rig) -> None:
    taken(rig, ["must-where"])
    assert rig.store.verify() == []
