"""The sheet on one screen: the watch, every step with big targets, and the judgement over all; kept at every tap."""

from __future__ import annotations

import json
from collections.abc import Mapping

import streamlit as st

from trainer.actions import watched, watching
from trainer.actions.sheets import Sheet
from trainer.web import session, titles, wording
from trainer.web.door import Here
from trainer.web.parts import Tick, Ticked, step_ticks
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.signoff_watch import draw_end, draw_watch
from trainer.web.signoff_way import every, go_on, name, purpose

__all__ = ["draw", "draw_drop"]


def draw(here: Here, sheet: Sheet) -> None:
    """The whole sheet and the way on."""
    words, checklist = here.words, sheet.checklist
    st.title(words.say("signoff.sheet-title", name=name(here, sheet.hand)), anchor=False)
    line = {"purpose": purpose(here, sheet.details.purpose), "title": wording.line(checklist.title, words)}
    st.markdown(f"**{words.say('signoff.sheet-line', **line)}**  \n{words.say('signoff.kept')}")
    if procedures := titles.procedure(here, *checklist.competencies()):
        st.caption(plain(procedures))
    wording.mark_untranslated(words, checklist)
    st.info(words.say("signoff.doghouse"))
    # The sheet's own introduction says that who watches has no other job, in the site's words.
    said = wording.line(checklist.intro, words) if checklist.intro else words.say("signoff.no-other-job")
    st.markdown(f"**{said}**")
    st.header(words.say("signoff.the-watch"), anchor=False)
    sheet = draw_watch(here, sheet)
    st.header(words.say("signoff.steps"), anchor=False)
    st.markdown(words.say("signoff.steps-text"))
    if lacking := watched.lacking(here.desk, sheet):
        st.warning(words.say("signoff.lacking", titles=every(here, lacking)))
    sheet = _steps(here, sheet)
    st.header(words.say("signoff.overall-title"), anchor=False)
    sheet = draw_end(here, sheet)
    _ways(here, sheet)


def _steps(here: Here, sheet: Sheet) -> Sheet:
    """The steps; the sheet with what was ticked in this run."""
    words, before = here.words, _ticked(sheet)
    steps = [
        Tick(each.id, words.pick(each.text), each.critical, titles.competency(here, each.competency))
        for each in sheet.checklist.steps
    ]
    key = f"steps-{sheet.sheet_id}"
    sent = step_ticks(steps, before, words=words, key=key)
    for step, each in _news(sent or {}, key).items():
        sheet = watching.tick(here.desk, sheet.sheet_id, step, each.state, own_act=each.own_act, note=each.note)
    session.keep(key, _written(_ticked(sheet)))
    return sheet


def _ticked(sheet: Sheet) -> Mapping[str, Ticked]:
    return {each.step: Ticked(each.state, each.own_act, each.note or "") for each in sheet.steps}


def _news(sent: Mapping[str, Ticked], key: str) -> Mapping[str, Ticked]:
    """What was changed on this screen: against what it was given last, so that it undoes no tick of another one."""
    given = json.loads(session.kept(key, "{}"))
    return {step: each for step, each in sent.items() if given.get(step) != [each.state, each.own_act, each.note]}


def _written(ticked: Mapping[str, Ticked]) -> str:
    return json.dumps({step: [each.state, each.own_act, each.note] for step, each in ticked.items()})


def _ways(here: Here, sheet: Sheet) -> None:
    words = here.words
    label = words.say("signoff.to-look", done=len(sheet.steps), total=len(sheet.checklist.steps))
    if press(label, "to-look", kind="primary"):
        go_on(sheet=sheet.sheet_id, step="look")
    with st.container(key="sheet-ways", horizontal=True):
        if press(words.say("signoff.later"), "later", kind="tertiary", wide=False):
            go_on()
        if press(words.say("signoff.drop"), "drop", kind="tertiary", wide=False):
            go_on(sheet=sheet.sheet_id, step="drop")


def draw_drop(here: Here, sheet: Sheet) -> None:
    """Whether the sheet is really to be thrown away."""
    words = here.words
    st.title(words.say("signoff.drop-title", name=name(here, sheet.hand)), anchor=False)
    st.markdown(words.say("signoff.drop-text"))
    if press(words.say("signoff.drop-no"), "drop-no", kind="primary"):
        go_on(sheet=sheet.sheet_id)
    if press(words.say("signoff.drop-yes"), "drop-yes"):
        watching.drop(here.desk, sheet.sheet_id)
        go_on()
