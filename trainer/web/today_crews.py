"""Which crew is looked at, and where it is just now: on tour, on hitch, or at home."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import streamlit as st

from trainer.core.catalogue import Rotation
from trainer.core.hitch import crew_change, cycle, is_working
from trainer.core.matrix import Matrix
from trainer.core.tours import began, is_on
from trainer.web import place, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["choose", "is_on_tour", "line"]


def choose(here: Here, matrix: Matrix) -> str:
    """The crew chosen; at first one's own, or the one on tour for somebody who has no crew around him. Empty: none."""
    sizes = Counter(matrix.crews)
    crews = [each for each in here.desk.catalogue.site.crews if sizes[each]]
    crews += sorted({*sizes} - {*crews, ""})
    if not crews:
        return ""
    asked = place.at("crew")
    first = asked if asked in crews else _first(here, crews, sizes)
    picked = st.pills(
        here.words.say("today.crew"), crews, default=first, required=True, key="today-crew",
        format_func=lambda each: plain(titles.crew(here, each)), label_visibility="collapsed",
    )  # fmt: skip
    crew = picked if picked in crews else first
    place.put(crew=crew)
    return crew


def _first(here: Here, crews: list[str], sizes: Counter[str]) -> str:
    own = here.actor.crew
    if sizes[own] > 1:
        return own
    rotations = here.desk.catalogue.site.crews
    on_tour = [each for each in crews if each in rotations and is_on_tour(here, rotations[each])]
    return max(on_tour or crews, key=lambda each: sizes[each])


def is_on_tour(here: Here, rotation: Rotation) -> bool:
    """Whether that crew works right now, by the site's own clock."""
    local = here.desk.now.astimezone(ZoneInfo(here.desk.store.tz))
    return is_on(rotation.tour, local) and is_working(rotation, began(rotation.tour, local))


def line(here: Here, crew: str) -> str:
    """Where the crew is now, its tour, and the next crew change; empty where the site does not know the crew."""
    rotation, words = here.desk.catalogue.site.crews.get(crew), here.words
    if rotation is None:
        return ""
    is_here = is_working(rotation, here.desk.today)
    key = "on-tour" if is_on_tour(here, rotation) else "on-hitch" if is_here else "away"
    told = [f"**{words.say(f'today.{key}')}**", *([plain(rotation.tour)] if rotation.tour else [])]
    change = _change(rotation, here.desk.today)
    if change is not None:
        day = plain(wording.short_day(change, words))
        told.append(words.say("today.crew-change" if is_here else "today.back", day=day))
    return " · ".join(told)


def _change(rotation: Rotation, today: date) -> date | None:
    """The last day of this hitch while the crew works, else the first day of the next."""
    if is_working(rotation, today):
        return crew_change(rotation, today)
    number = cycle(rotation, today)
    if number is None or rotation.start is None:
        return None
    return rotation.start + timedelta(days=(number + 1) * (rotation.on + rotation.off))
