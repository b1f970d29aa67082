"""Before it is allowed: what is still missing or open for that hand, so that both PINs are put to it knowingly."""

from __future__ import annotations

from collections.abc import Iterator

import streamlit as st

from trainer.actions import allowing
from trainer.actions.allowing import NotYet, OpenPoints
from trainer.core.matrix import Rule
from trainer.core.records import Part
from trainer.web import titles, today_hands, wording
from trainer.web.door import Here
from trainer.web.matrix_rows import standing_word
from trainer.web.plain import plain
from trainer.web.slips_way import every

__all__ = ["draw"]

_PARTS = {Part.KNOWLEDGE: "quiz", Part.PRACTICAL: "watch", Part.TAILGATE: "tailgate"}


def draw(here: Here, hand: str, competency: str) -> None:
    """All that speaks against it, in one box; nothing where nothing does."""
    told = list(_lines(here, allowing.open_points(here.desk, hand, competency)))
    if told:
        lines = "\n".join(f"- {each}" for each in told)
        st.warning(f"**{here.words.say('slips.open-title')}**\n\n{lines}")


def _lines(here: Here, found: OpenPoints) -> Iterator[str]:
    words = here.words
    if found.off:
        yield words.say("slips.open-off", titles=every(here, found.off))
    # What only waits for another competency has all its own parts: that other one is named below.
    if found.cell is not None and found.cell.reason.rule != Rule.AFTER:
        yield from today_hands.lines(here, [found.cell], {found.cell.competency: found.parts})
    for cell in found.before:
        title = plain(titles.competency(here, cell.competency))
        yield words.say("slips.open-before", title=title, standing=standing_word(cell.standing, words))
    for each in found.not_yet:
        yield _not_yet(here, each)


def _not_yet(here: Here, missed: NotYet) -> str:
    words = here.words
    told = words.say(
        "slips.open-not-yet",
        day=plain(wording.short_day(missed.day, words)),
        title=plain(titles.competency(here, missed.competency)),
        part=words.say(f"slips.open-{_PARTS.get(missed.part, 'outside')}"),
    )
    if not missed.steps:
        return told
    steps = "; ".join(wording.line(each, words) for each in missed.steps)
    return f"{told} {words.say('slips.open-steps', steps=steps)}"
