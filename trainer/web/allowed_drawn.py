"""A dispensation in words, wherever a standing is shown: through when, under which conditions, and that it is none."""

from __future__ import annotations

import streamlit as st

from trainer.actions import dispensed
from trainer.actions.dispensed import ENDED, RUNS, Given
from trainer.actions.dispensing import HITCH
from trainer.web import titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["conditions", "end", "governs", "line", "panel"]


def end(here: Here, given: Given) -> str:
    """When it ends by itself: with which tour, or at crew change."""
    key = "end-hitch" if given.lasts == HITCH else "end-tour"
    return here.words.say(f"slips.{key}", day=plain(wording.short_day(given.until, here.words)))


def conditions(here: Here, given: Given) -> str:
    """What was set down, escaped."""
    return plain(given.conditions) if given.conditions else here.words.say("slips.conditions-erased")


def line(here: Here, given: Given) -> str:
    """One line for a list of what a hand lacks."""
    title = plain(titles.competency(here, given.competency))
    if given.state == ENDED:
        return here.words.say("slips.allowed-ended", title=title)
    return here.words.say(
        "slips.allowed", end=end(here, given), title=f"**{title}**", conditions=conditions(here, given)
    )


def governs(here: Here, hand: str, competency: str) -> str:
    """That what is allowed counts, for as long as it runs, before what stays undone until then; else empty."""
    running = [each for each in dispensed.of_cell(here.desk, hand, competency) if each.state == RUNS]
    if not running:
        return ""
    given = running[-1]
    return here.words.say("slips.allowed-governs", end=end(here, given), conditions=conditions(here, given))


def panel(here: Here, given: Given) -> None:
    """All of it, under the standing of its cell."""
    words = here.words
    if given.state == ENDED:
        st.warning(words.say("slips.allowed-ended-here", end=end(here, given)))
        return
    told = (
        f"**{words.say('slips.allowed-here', end=end(here, given))}**",
        words.say("slips.allowed-conditions", conditions=conditions(here, given)),
        words.say("slips.allowed-by", pusher=plain(given.pusher), coordinator=plain(given.coordinator)),
    )
    st.info("  \n".join(told))
