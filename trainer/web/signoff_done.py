"""After signing: what was written, the one next thing, and the way to the cells it changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

import streamlit as st

from trainer.actions import look as looking
from trainer.actions import may, watched
from trainer.actions.desk import HAND
from trainer.actions.watched import Signed
from trainer.actions.watching import SIGNED
from trainer.core.observation import ASSESSMENT, CLEAN, NOT_YET
from trainer.core.progress import PartProgress
from trainer.core.records import Part
from trainer.web import prints, titles, wording
from trainer.web.door import Here
from trainer.web.goto import go
from trainer.web.plain import plain
from trainer.web.press import press
from trainer.web.signoff_way import every, go_on, name, purpose
from trainer.web.signoff_written import outcome_stamp

__all__ = ["draw"]


def draw(here: Here, record_id: str) -> None:
    """The result of the sheet signed under that id."""
    words, done = here.words, watched.signed(here.desk, record_id)
    hand, body = done.record.hand or "", done.body
    st.title(words.say("signoff.done-title"), anchor=False)
    held = plain(wording.day(date.fromisoformat(body.held), words))
    st.markdown(words.say("signoff.done-line", name=name(here, hand), purpose=purpose(here, body.purpose), day=held))
    _next(here, done, hand)
    if body.purpose != ASSESSMENT:
        st.markdown(words.say("signoff.done-practice"))
    elif body.hand_present != SIGNED:
        st.markdown(words.say("signoff.done-none"))
    with st.container(key="outcomes"):
        for competency in _in_order(here, body.outcomes):
            _outcome(here, hand, competency, body.outcomes[competency], is_down=competency in done.stood_down)
    if may.sees_all(here.desk):
        prints.watch_sheet(here, record_id, date.fromisoformat(body.held))
    if press(words.say("signoff.another-sheet"), "another-sheet"):
        go_on()
    is_hand = here.actor.role == HAND
    label = words.say("signoff.to-card" if is_hand else "signoff.to-today")
    if press(label, "leave-done", kind="tertiary", wide=False):
        go("card" if is_hand else "today")


def _next(here: Here, done: Signed, hand: str) -> None:
    words, outcomes, person = here.words, done.body.outcomes, name(here, hand)
    with st.container(key="next-thing"):
        st.markdown(f"**{words.say('signoff.next')}**")
        if done.stood_down:
            told = words.say("signoff.next-off", name=person, titles=every(here, done.stood_down))
            st.error(f"**{words.say('signoff.first-safe')}**  \n{told}")
            return
        if done.body.purpose != ASSESSMENT:
            st.markdown(words.say("signoff.next-practice", name=person))
            return
        key = "next-not-yet" if NOT_YET in outcomes.values() else "next-clean"
        st.markdown("  \n".join([words.say(f"signoff.{key}", name=person), *_to_go(here, done, hand)]))


def _to_go(here: Here, done: Signed, hand: str) -> Iterator[str]:
    """What is still to be watched of what was clean, for those who may see the hand's card."""
    clean = [each for each in _in_order(here, done.body.outcomes) if done.body.outcomes[each] == CLEAN]
    if not clean or not may.sees_all(here.desk):
        return
    parts = looking.card(here.desk, hand).parts
    practical = {each: part for each in clean for part in parts.get(each, ()) if part.part is Part.PRACTICAL}
    open_ones = {each: part for each, part in practical.items() if not part.holds}
    yield from _more(here, open_ones)
    through = [part.through for part in practical.values() if part.through is not None]
    if through and not open_ones:
        yield here.words.say("signoff.next-holds", day=plain(wording.day(min(through), here.words)))


def _more(here: Here, parts: Mapping[str, PartProgress]) -> Iterator[str]:
    """One line for all that lack as many watches."""
    groups: dict[tuple[int, bool], list[str]] = {}
    for competency, part in parts.items():
        left = max(part.of_watches - part.watches, part.of_watchers - part.watchers, 1)
        groups.setdefault((left, part.watchers < part.of_watchers), []).append(competency)
    for (left, by_another), group in groups.items():
        by = here.words.say("signoff.next-by-another") if by_another else ""
        yield here.words.count("signoff.next-more", left, titles=every(here, tuple(group)), by=by)


def _in_order(here: Here, outcomes: Mapping[str, str]) -> list[str]:
    """The competencies in the order of the catalogue; a record holds them in the order of their ids."""
    known = [each.id for each in here.desk.catalogue.competencies]
    return sorted(outcomes, key=lambda each: ([*known, each].index(each), each))


def _outcome(here: Here, hand: str, competency: str, outcome: str, *, is_down: bool) -> None:
    title = plain(titles.competency(here, competency))
    to_records = here.words.say("signoff.to-records", title=title)
    with st.container(key=f"outcome-head-{competency}", horizontal=True, vertical_alignment="center"):
        st.html(outcome_stamp(here, outcome, is_down=is_down), width="content")
        if not may.sees_all(here.desk):
            st.markdown(f"**{title}**")
        elif press(to_records, f"cell-{competency}", kind="tertiary", wide=False):
            go("evidence", hand=hand, competency=competency)
