"""A watch is judged competency by competency, and only by who may."""

from __future__ import annotations

from datetime import date

import pytest

from tests.unit.assessment import samples
from trainer.core.observation import (
    STATES,
    Observing,
    check_steps,
    critical_misses,
    disagreement,
    in_the_way,
    judge,
    may_observe,
    to_stand_down,
)
from trainer.core.records import StepSeen
from trainer.errors import BadInput

SHEET = samples.checklist()


def judged(**states: str) -> dict[str, str]:
    """The outcomes of steps given with underscores for hyphens."""
    return judge(SHEET, samples.seen({name.replace("_", "-"): state for name, state in states.items()}))


def test_clean_is_every_critical_step_met_and_no_other_not_met() -> None:
    assert judged(hands_handles="met", hands_out="met", hands_gloves="met after prompt") == {"hands": "clean"}
    assert judged(hands_handles="met", hands_out="met", hands_gloves="not observed") == {"hands": "clean"}
    assert judged(hands_handles="met", hands_out="met", hands_gloves="not met") == {"hands": "not yet"}


@pytest.mark.parametrize("state", [state for state in STATES if state != "met"])
def test_on_a_critical_step_only_met_counts(state: str) -> None:
    assert judged(hands_handles="met", hands_out=state) == {"hands": "not yet"}


def test_a_critical_step_that_nobody_ticked_was_not_observed() -> None:
    assert judged(hands_handles="met") == {"hands": "not yet"}


def test_each_competency_is_judged_by_its_own_steps_only() -> None:
    assert judged(calls_given="met", hands_handles="not met", lift_back="met after prompt") == {
        "calls": "clean",
        "hands": "not yet",
        "lifting": "clean",
    }


def test_a_competency_with_no_step_observed_gets_no_row() -> None:
    assert judged(calls_given="not observed", lift_back="not applicable") == {}
    assert judge(SHEET, ()) == {}


def test_only_own_misses_of_critical_steps_stand_down() -> None:
    missed = samples.seen({"hands-out": "not met", "hands-gloves": "not met", "calls-given": "met after prompt"})
    assert to_stand_down(SHEET, missed) == ("hands",)
    assert [step.id for step in critical_misses(SHEET, missed)] == ["hands-out"]
    others = samples.seen({"hands-out": "not met"}, own_act=False)
    assert to_stand_down(SHEET, others) == ()
    assert [step.id for step in critical_misses(SHEET, others)] == ["hands-out"]


def test_two_misses_of_one_competency_are_one_stand_down() -> None:
    both = samples.seen({"hands-out": "not met", "hands-handles": "not met", "calls-given": "not met"})
    assert to_stand_down(SHEET, both) == ("calls", "hands")


@pytest.mark.parametrize(
    ("overall", "outcomes", "word"),
    [
        ("yes", {"a": "clean"}, None),
        ("no", {"a": "not yet"}, None),
        ("no", {"a": "clean", "b": "not yet"}, None),
        ("yes", {"a": "clean", "b": "not yet"}, "alone-but-not-yet"),
        ("no", {"a": "clean"}, "clean-but-not-alone"),
        ("no", {}, None),
        ("", {"a": "not yet"}, None),
    ],
)
def test_the_overall_judgement_against_the_steps_asks_for_a_review(
    overall: str, outcomes: dict[str, str], word: str | None
) -> None:
    assert disagreement(overall, outcomes) == word


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        ((StepSeen("nothing", "met"),), "no-such-step"),
        ((StepSeen("hands-out", "met"), StepSeen("hands-out", "not met")), "no-such-step"),
        ((StepSeen("hands-out", "fine"),), "no-such-state"),
        ((StepSeen("hands-out", "not applicable"),), "step-needs-reason"),
    ],
)
def test_steps_that_cannot_stand_on_the_sheet_are_refused(steps: tuple[StepSeen, ...], code: str) -> None:
    with pytest.raises(BadInput) as caught:
        check_steps(SHEET, steps)
    assert caught.value.code == code


def codes(watch: Observing, purpose: str = "assessment") -> list[str]:
    """The codes of what stands against this observer."""
    return [each.code for each in may_observe(watch, purpose)]


def test_an_observer_with_no_other_job_who_may_and_holds_it_is_welcome() -> None:
    assert codes(Observing("dee", "ana", True, "tom", "none")) == []


def test_everything_against_an_observer_is_said_at_once() -> None:
    watch = Observing("ana", "ana", False, "ana", "none", ("hands",))
    assert codes(watch) == ["observer-is-hand", "observer-has-job", "observer-position", "observer-not-holding"]
    assert codes(watch, "practice") == ["observer-is-hand", "observer-has-job"]


def test_who_observes_since_after_the_tour_began_is_told_so() -> None:
    watch = Observing("dee", "ana", False, "tom", "none", since_then=date(2026, 3, 1))
    assert [(each.code, each.values) for each in may_observe(watch, "assessment")] == [
        ("observer-not-then", {"day": date(2026, 3, 1)})
    ]
    assert codes(watch, "practice") == []


def test_the_steps_in_the_way_of_clean_are_named_with_their_state() -> None:
    steps = samples.seen({"hands-handles": "met after prompt", "hands-gloves": "not met"})
    found = in_the_way(SHEET, steps, "hands")
    assert [(step.id, state) for step, state in found] == [
        ("hands-handles", "met after prompt"), ("hands-out", "not observed"), ("hands-gloves", "not met"),
    ]  # fmt: skip
    clean = samples.seen({"hands-handles": "met", "hands-out": "met", "hands-gloves": "not observed"})
    assert in_the_way(SHEET, clean, "hands") == ()
