"""A watch on the job: what its steps amount to, and who may observe whom.

An assessment is judged competency by competency, over the steps that belong to each. What was not seen is never guessed
at: a competency with no step observed gets no outcome.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from trainer.core.checklists import (
    MET,
    MET_AFTER_PROMPT,
    NOT_APPLICABLE,
    NOT_MET,
    NOT_OBSERVED,
    STATES,
    Checklist,
    Step,
)
from trainer.core.marking import number
from trainer.core.records import StepSeen
from trainer.errors import BadInput, Refused

__all__ = [
    "ASSESSMENT",
    "CLEAN",
    "JOBS",
    "MET",
    "MET_AFTER_PROMPT",
    "NOT_APPLICABLE",
    "NOT_MET",
    "NOT_OBSERVED",
    "NOT_YET",
    "OVERALL",
    "PRACTICE",
    "STATES",
    "Observing",
    "check_steps",
    "critical_misses",
    "disagreement",
    "in_the_way",
    "judge",
    "may_observe",
    "observed_competencies",
    "out_of_range",
    "to_stand_down",
]

_SEEN = frozenset({MET, MET_AFTER_PROMPT, NOT_MET})

CLEAN = "clean"
NOT_YET = "not yet"

PRACTICE = "practice"
ASSESSMENT = "assessment"

OVERALL = ("yes", "no")
"""Would you let them do this alone?"""

JOBS = ("none", "brake", "slips", "derrick")
"""What else the observer had to do during the watch; anything but ``none`` and he was not observing."""


def check_steps(checklist: Checklist, steps: Iterable[StepSeen]) -> None:
    """Raise ``BadInput`` for steps that cannot stand on the sheet.

    ``no-such-step`` for one that is not on the sheet or stands twice, ``no-such-state``, ``step-needs-reason`` for a
    step set to not applicable without saying why.
    """
    known = {step.id for step in checklist.steps}
    for each in steps:
        if each.step not in known:
            raise BadInput("no-such-step", step=each.step)
        known.remove(each.step)
        if each.state not in STATES:
            raise BadInput("no-such-state", state=each.state)
        if each.state == NOT_APPLICABLE and not each.note:
            raise BadInput("step-needs-reason", step=each.step)


def out_of_range(checklist: Checklist, noted: Mapping[str, str]) -> tuple[BadInput, ...]:
    """``sheet-range`` for each number noted that cannot be right, by its condition, in the order of the sheet.

    A sheet may hold such a number while it is filled in, so that whoever typed it sees it; it is not signed with it.
    """
    return tuple(
        BadInput("sheet-range", condition=each.id, value=noted[each.id], least=each.least, most=each.most)
        for each in checklist.conditions
        if noted.get(each.id) and not each.choices and not each.allows(number(noted[each.id]))
    )


def judge(checklist: Checklist, steps: Iterable[StepSeen]) -> dict[str, str]:
    """Each competency with a step observed to ``clean`` or ``not yet``, in the order of the sheet.

    Clean is every critical step ``met`` and no other ``not met``.
    """
    states = {each.step: each.state for each in steps}
    return {
        competency: _outcome([step for step in checklist.steps if step.competency == competency], states)
        for competency in _observed(checklist, states)
    }


def observed_competencies(checklist: Checklist, steps: Iterable[StepSeen]) -> tuple[str, ...]:
    """The competencies with at least one step observed, in the order of the sheet."""
    return _observed(checklist, {each.step: each.state for each in steps})


def _observed(checklist: Checklist, states: Mapping[str, str]) -> tuple[str, ...]:
    seen = {step.competency for step in checklist.steps if states.get(step.id) in _SEEN}
    return tuple(each for each in checklist.competencies() if each in seen)


def _outcome(steps: list[Step], states: Mapping[str, str]) -> str:
    return CLEAN if all(_is_clean(step, states.get(step.id, NOT_OBSERVED)) for step in steps) else NOT_YET


def _is_clean(step: Step, state: str) -> bool:
    return state == MET if step.critical else state != NOT_MET


def in_the_way(checklist: Checklist, steps: Iterable[StepSeen], competency: str) -> tuple[tuple[Step, str], ...]:
    """Each step that keeps ``competency`` from clean, with its state, in the order of the sheet; none when it is."""
    states = {each.step: each.state for each in steps}
    own = ((step, states.get(step.id, NOT_OBSERVED)) for step in checklist.steps if step.competency == competency)
    return tuple((step, state) for step, state in own if not _is_clean(step, state))


def critical_misses(checklist: Checklist, steps: Iterable[StepSeen]) -> tuple[Step, ...]:
    """The critical steps seen and not met, whoever's doing it was, in the order of the sheet."""
    states = {each.step: each.state for each in steps}
    return tuple(step for step in checklist.steps if step.critical and states.get(step.id) == NOT_MET)


def to_stand_down(checklist: Checklist, steps: Iterable[StepSeen]) -> tuple[str, ...]:
    """The competencies of the critical steps not met through the hand's own act, in the order of the sheet.

    In an assessment they stand the hand down where his practical part held on that day.
    """
    seen = tuple(steps)
    own = {each.step for each in seen if each.own_act}
    return tuple(dict.fromkeys(step.competency for step in critical_misses(checklist, seen) if step.id in own))


def disagreement(overall: str, outcomes: Mapping[str, str]) -> str | None:
    """A word for what needs a second look: the overall judgement says other than the steps; ``None`` when they agree.

    ``alone-but-not-yet``: would let them do it alone, though a step says not yet. ``clean-but-not-alone``: the reverse.
    """
    if overall == "yes" and NOT_YET in outcomes.values():
        return "alone-but-not-yet"
    if overall == "no" and outcomes and NOT_YET not in outcomes.values():
        return "clean-but-not-alone"
    return None


@dataclass(frozen=True, slots=True)
class Observing:
    """Who watched whom, and how: ``observes`` is whether the observer's position on that day lets him observe.

    ``brake`` is the hand_id of who had the brake; ``job`` what else the observer had to do; ``lacking`` the observed
    competencies that he does not hold on that day. ``since_then`` is that day where he observes by now, but did not on
    it: somebody who joined or moved after the tour began.
    """

    observer: str
    hand: str
    observes: bool
    brake: str
    job: str
    lacking: tuple[str, ...] = ()
    since_then: date | None = None


def may_observe(watch: Observing, purpose: str) -> tuple[Refused, ...]:
    """Everything that stands against this observer signing the sheet; nothing when he may.

    ``observer-is-hand`` and ``observer-has-job`` count for practice too; ``observer-position``, ``observer-not-then``
    and ``observer-not-holding`` only for an assessment, since practice is never evidence.
    """
    problems: list[Refused] = []
    if watch.observer == watch.hand:
        problems.append(Refused("observer-is-hand"))
    if watch.job != "none" or watch.brake == watch.observer:
        problems.append(Refused("observer-has-job", job=watch.job if watch.job != "none" else "brake"))
    if purpose == ASSESSMENT:
        if not watch.observes:
            then = watch.since_then
            problems.append(Refused("observer-not-then", day=then) if then else Refused("observer-position"))
        problems.extend(Refused("observer-not-holding", competency=each) for each in watch.lacking)
    return tuple(problems)
