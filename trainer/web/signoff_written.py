"""All that signing writes, for whoever puts a PIN to it: the outcomes with their steps, the watch, and every note."""

from __future__ import annotations

from collections.abc import Iterator

import streamlit as st

from trainer.actions.sheets import Sheet
from trainer.actions.watching import Preview
from trainer.core.checklists import Checklist, Step
from trainer.core.observation import (
    ASSESSMENT,
    CLEAN,
    MET,
    NOT_MET,
    NOT_OBSERVED,
    in_the_way,
    observed_competencies,
)
from trainer.core.records import StepSeen
from trainer.export.wording import unit_name
from trainer.web import look, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.signoff_watch import brake
from trainer.web.signoff_way import every, name, purpose

__all__ = ["draw", "outcome_stamp", "step_line"]


def draw(here: Here, sheet: Sheet, found: Preview) -> None:
    """Everything, the most telling first; steps that were simply met are counted, and stand in full in the fold."""
    words = here.words
    if sheet.details.purpose != ASSESSMENT:
        st.markdown(words.say("signoff.writes-practice"))
    _outcomes(here, sheet, found)
    st.markdown("  \n".join(_facts(here, sheet)))
    steps = sheet.checklist.steps
    with st.expander(words.say("signoff.every-step", total=len(steps))):
        st.markdown("\n".join(f"{at}. {step_line(here, each, _seen(sheet, each))}" for at, each in enumerate(steps, 1)))


def outcome_stamp(here: Here, outcome: str, *, is_down: bool) -> str:
    """HTML of what a competency comes to: shape, word and colour."""
    if is_down:
        return look.badge("stood down", here.words.say("signoff.off"))
    verdict, key = ("passed", "clean") if outcome == CLEAN else ("not-yet", "not-yet")
    return wording.stamp(verdict, here.words.say(f"signoff.{key}"))


def step_line(here: Here, step: Step, seen: StepSeen) -> str:
    """Markdown of one step: its words, what it was, whose act a miss was, and what was noted."""
    words = here.words
    state = words.say(f"parts.state-{seen.state.replace(' ', '-')}")
    if seen.state == NOT_MET and step.critical:
        state = words.say("signoff.own-act" if seen.own_act else "signoff.not-own-act", state=state)
    line = words.say("signoff.in-the-way", step=wording.line(step.text, words), state=f"**{state}**")
    return f"{line}. {words.say('evidence.note', note=plain(seen.note))}" if seen.note else line


def _seen(sheet: Sheet, step: Step) -> StepSeen:
    return sheet.step(step.id) or StepSeen(step.id, NOT_OBSERVED)


def _outcomes(here: Here, sheet: Sheet, found: Preview) -> None:
    """Each competency that was watched, or of which something is noted; the others in one line."""
    watched = observed_competencies(sheet.checklist, sheet.steps)
    told = {each: list(_lines(here, sheet, each)) for each in sheet.checklist.competencies()}
    with st.container(key="outcomes"):
        for competency, lines in told.items():
            # The critical steps of what nobody watched are not in the way of anything.
            if competency in watched or any(each.competency == competency for each in _noted(sheet)):
                with st.container(key=f"outcome-{competency}"):
                    _head(here, found, competency)
                    st.markdown("\n".join([*(f"- {line}" for line in lines), "", _counted(here, sheet, competency)]))
    unseen = tuple(each for each in told if each not in watched)
    if unseen and watched:
        st.markdown(here.words.say("signoff.not-watched", titles=every(here, unseen)))


def _head(here: Here, found: Preview, competency: str) -> None:
    outcome = found.outcomes.get(competency)
    with st.container(key=f"outcome-head-{competency}", horizontal=True, vertical_alignment="center"):
        if outcome:
            st.html(outcome_stamp(here, outcome, is_down=competency in found.stand_down), width="content")
        st.markdown(f"**{plain(titles.competency(here, competency))}**")


def _lines(here: Here, sheet: Sheet, competency: str) -> Iterator[str]:
    """The steps that say more than met, or than nothing."""
    blocking = {step.id for step, _ in in_the_way(sheet.checklist, sheet.steps, competency)}
    is_watched = competency in observed_competencies(sheet.checklist, sheet.steps)
    noted = {step.id for step in _noted(sheet)}
    for step in _of(sheet.checklist, competency):
        if step.id in noted or (is_watched and step.id in blocking):
            yield step_line(here, step, _seen(sheet, step))


def _noted(sheet: Sheet) -> list[Step]:
    """The steps that were ticked as anything else than met or not observed, or have a note."""
    seen = ((step, _seen(sheet, step)) for step in sheet.checklist.steps)
    return [step for step, each in seen if each.note or each.state not in (MET, NOT_OBSERVED)]


def _of(checklist: Checklist, competency: str) -> list[Step]:
    return [step for step in checklist.steps if step.competency == competency]


def _counted(here: Here, sheet: Sheet, competency: str) -> str:
    states = [_seen(sheet, step).state for step in _of(sheet.checklist, competency)]
    counts = {"met": states.count(MET), "total": len(states), "unseen": states.count(NOT_OBSERVED)}
    return here.words.say("signoff.counted-unseen" if counts["unseen"] else "signoff.counted", **counts)


def _facts(here: Here, sheet: Sheet) -> Iterator[str]:
    """The watch itself, and what was judged and noted over all."""
    words, details, person = here.words, sheet.details, name(here, sheet.hand)
    title = wording.line(sheet.checklist.title, words)
    yield f"**{words.say('signoff.sheet-line', purpose=purpose(here, details.purpose), title=title)}**"
    told = {"day": plain(wording.day(details.held, words)), "brake": brake(here, details.brake)}
    key = "signoff.facts" if details.tour else "signoff.facts-plain"
    yield words.say(key, tour=plain(details.tour), **told)
    yield words.say("evidence.by-observation", by=name(here, details.observer))
    if conditions := list(_conditions(here, sheet)):
        yield " · ".join(conditions)
    if details.overall:
        judged = words.say(f"signoff.overall-{details.overall}")
        yield f"{words.say('signoff.overall', name=person)} **{judged}**"
    if details.stop_called:
        yield words.say("signoff.stop-called", name=person)
    if details.note:
        yield words.say("evidence.note", note=plain(details.note))


def _conditions(here: Here, sheet: Sheet) -> Iterator[str]:
    words = here.words
    for each in sheet.checklist.conditions:
        if value := sheet.details.conditions.get(each.id):
            chosen = dict(each.choices).get(value)
            said = wording.line(chosen, words) if chosen else plain(f"{value} {unit_name(each.unit, words)}".strip())
            yield words.say("signoff.condition", title=wording.line(each.title, words), value=said)
