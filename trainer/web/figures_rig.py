"""The rig that the page reckons with: the site's own figures, and a wall to try where the site has entered none."""

from __future__ import annotations

import streamlit as st

from trainer.actions import may, reckoning
from trainer.core.rig import CLASSES, Rig, SlipSet, inspected_body
from trainer.core.units import SYSTEMS
from trainer.errors import BadInput
from trainer.web import place, session
from trainer.web.door import Here
from trainer.web.figures_units import Both
from trainer.web.plain import plain
from trainer.web.press import submit

__all__ = ["ask_for_wall", "both", "fitting_sets", "is_tried", "rig", "set_in_use", "set_title"]

_WALL = "rig-wall"
_SAME_OD = 0.002


def rig(here: Here) -> Rig:
    """The site's rig, with the wall that was tried in this tab if the site has none. Raises ``NotFound("no-rig")``."""
    found = reckoning.rig(here.desk)
    if inspected_body(found.pipe) is None and is_tried():
        name, _, left = session.kept(_WALL).partition(":")
        return reckoning.try_wall(here.desk, name, float(left))
    return found


def is_tried() -> bool:
    """Whether a wall was entered in this tab only."""
    return bool(session.kept(_WALL))


def both(found: Rig) -> Both:
    """Which system stands first: the one in the address, else the site's."""
    asked = place.at("units")
    return Both(asked if asked in SYSTEMS else found.units)


def fitting_sets(found: Rig) -> dict[str, SlipSet]:
    """The slip sets for the pipe in use, by name."""
    return {name: each for name, each in found.slips.items() if abs(each.pipe_od - found.pipe.od) < _SAME_OD}


def set_in_use(here: Here, found: Rig) -> tuple[str, SlipSet]:
    """The slip set to reckon with, by name; asked for where the site has several that differ."""
    fitting = fitting_sets(found) or dict(found.slips)
    names = list(fitting)
    if len({repr((each.mass, each.contact_length, each.handles)) for each in fitting.values()}) < 2:
        return names[0], fitting[names[0]]
    asked = place.at("set", names[0])
    chosen = st.selectbox(
        here.words.say("figures.set"), names, index=names.index(asked) if asked in names else 0,
        format_func=lambda name: set_title(here, found, name), key="figures-set",
    )  # fmt: skip
    place.put(set=chosen)
    return chosen, fitting[chosen]


def set_title(here: Here, found: Rig, name: str) -> str:
    """What the site calls the set: in its list of gear, else with its figures, else its name."""
    known = here.desk.catalogue.site.gear.get(name)
    title = known.title if known else found.slips[name].title
    return here.words.pick(title) if title else name


def ask_for_wall(here: Here) -> None:
    """Ask for the inspected class before any strength: a coordinator enters it for this tab, others are told whom."""
    words = here.words
    with st.container(key="ask-wall", border=True):
        st.subheader(words.say("figures.wall-title"), anchor=False)
        st.markdown(words.say("figures.wall-text"))
        if not may.is_allowed(here.actor.role, "reckoning.try_wall"):
            st.markdown(words.say("figures.wall-who"))
            return
        with st.form("wall", border=False):
            names = {each: words.say(f"figures.class-{each}") for each in CLASSES}
            chosen = st.selectbox(
                words.say("figures.wall-class"), CLASSES, index=None, format_func=names.__getitem__, key="wall-class",
                placeholder=words.say("figures.wall-choose"),
            )  # fmt: skip
            left = st.number_input(words.say("figures.wall-left"), 1, 100, value=None, key="wall-left")
            if submit(words.say("figures.wall-enter"), "wall-enter"):
                _try(here, chosen, left)


def _try(here: Here, chosen: str | None, left: int | None) -> None:
    """Take what was entered, for this tab only."""
    try:
        if chosen is None or left is None:
            raise BadInput("rig-wall", wall="–")
        reckoning.try_wall(here.desk, chosen, left / 100)
    except BadInput as error:
        st.error(plain(here.words.error(error)))
        return
    session.keep(_WALL, f"{chosen}:{left / 100}")
    st.rerun()
