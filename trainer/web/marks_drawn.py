"""Sign-offs that want another pair of eyes, in plain words: they count, and nobody is accused of anything."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.core.signoffs import Mark
from trainer.web import wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.slips_way import every, name

__all__ = ["lines", "said"]

_NAMED = 4


def lines(here: Here, marks: Sequence[Mark]) -> None:
    """All of them under one sentence that says what to do about it."""
    st.markdown(here.words.say("slips.marks-text"))
    st.markdown("\n".join(f"- {each}" for each in said(here, marks)))


def said(here: Here, marks: Sequence[Mark]) -> list[str]:
    """One line for the same thing about the same people, over all competencies; the newest first, escaped."""
    groups: dict[tuple[str, tuple[str, ...]], list[Mark]] = {}
    for each in marks:
        groups.setdefault((each.kind, each.people), []).append(each)
    newest = sorted(groups.values(), key=lambda group: max(each.day for each in group), reverse=True)
    return [_line(here, group) for group in newest]


def _few(here: Here, competencies: Sequence[str]) -> str:
    """The first few titles, and how many more there are."""
    if len(competencies) <= _NAMED + 1:
        return every(here, competencies)
    shown = every(here, competencies[:_NAMED])
    return here.words.say("today.and-more", titles=shown, count=len(competencies) - _NAMED)


def _line(here: Here, group: Sequence[Mark]) -> str:
    """What was noticed: who watched whom, and when last."""
    mark, known = group[0], [each.id for each in here.desk.catalogue.competencies]
    people = [name(here, each) for each in mark.people]
    kind = "chain" if mark.kind == "one-observer" and len(people) > 2 else mark.kind
    about = {each.competency for each in group}
    told = {
        "first": people[0],
        "second": people[-1],
        "names": " → ".join(people),
        "title": _few(here, [*(each for each in known if each in about), *sorted(about - {*known})]),
        "day": plain(wording.day(max(each.day for each in group), here.words)),
    }
    return here.words.say(f"slips.mark-{kind}", **told)
