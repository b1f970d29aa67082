"""Rig figures: what the rig's own pipe, slips and mud come to, one question at a time.

In the address: ``figure``, as chosen from the list, ``units`` (``SI`` or ``US`` first) and ``set``, the slip set.
"""

from __future__ import annotations

import streamlit as st

from trainer.core.units import SYSTEMS
from trainer.errors import MechanicsRangeError, NotFound, TrainerError
from trainer.web import door, figures_frame, figures_list, figures_rig, frame, late, place
from trainer.web.goto import turn
from trainer.web.press import press


def draw_list(here: door.Here) -> None:
    """Every figure as a question to tap on."""
    st.markdown(here.words.say("figures.intro"))
    with st.container(key="tiles-figures"):
        for each in figures_list.figures_of(here):
            name, point = (here.words.say(f"figures.{part}-{each.name}") for part in ("name", "tile"))
            if press(f"**{name}**  \n{point}", f"figure-{each.name}"):
                place.put(figure=each.name)
                turn()
                st.rerun()


@st.fragment
def draw_figure(name: str) -> None:
    """One figure; in a fragment, so that a turned slider draws nothing else anew."""
    here = door.here()
    figure = figures_list.named(name)
    if figure is None:
        return
    rig = figures_rig.rig(here)
    try:
        figure.draw(here, rig, figures_rig.both(rig))
    except MechanicsRangeError as error:
        figures_frame.refused(here.words, error)
    except TrainerError as error:
        # Here, because a fragment that runs by itself has no page around it to say it.
        frame.shown(error, here.words)
    late.go_back()


def draw_ways(here: door.Here) -> None:
    """Back to the list, and the other units first."""
    first = figures_rig.both(figures_rig.rig(here)).first
    with st.container(key="figures-ways", horizontal=True):
        if press(here.words.say("figures.all"), "figures-all", kind="tertiary", wide=False):
            place.put(figure=None)
            turn()
            st.rerun()
        other = next(each for each in SYSTEMS if each != first)
        if press(here.words.say(f"figures.first-{other}"), "figures-units", kind="tertiary", stays=True, wide=False):
            place.put(units=other)
            st.rerun()


def draw() -> None:
    """The whole page."""
    here = door.here()
    chosen = figures_list.named(place.at("figure"))
    title = f"figures.name-{chosen.name}" if chosen else "nav.figures"
    try:
        rig = figures_rig.rig(here)
    except NotFound as error:
        st.title(here.words.say(title), anchor=False)
        st.info(here.words.error(error))
        return
    if chosen:
        draw_ways(here)
    st.title(here.words.say(title), anchor=False)
    figures_frame.rule(here.words)
    if figures_rig.is_tried() and rig.pipe.inspected_class:
        st.info(here.words.say("figures.wall-tried", name=here.words.say(f"figures.class-{rig.pipe.inspected_class}")))
    if chosen is None:
        draw_list(here)
        return
    draw_figure(chosen.name)
    st.markdown(here.words.say("figures.standing"))


draw()
