"""What each person of a two- or three-person lift carries, written on the hands."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from trainer.core.reckoned import WAYS, Shares, shares
from trainer.core.rig import Rig, SlipSet
from trainer.core.units import number
from trainer.pictures.hand_shares import hand_shares
from trainer.web import figures_frame as frame
from trainer.web import figures_rig
from trainer.web.door import Here
from trainer.web.figures_turned import Span, Turn, turned
from trainer.web.figures_units import Both
from trainer.web.parts import picture

__all__ = ["draw", "team_factor"]

_LETTERS = "ABC"
_TEAM = {2: "2/3", 3: "1/2"}


def draw(here: Here, rig: Rig, both: Both) -> None:
    """The whole figure."""
    words = here.words
    top, left, right = frame.places()
    with left:
        _, slips = figures_rig.set_in_use(here, rig)
        names = {each: words.say(f"figures.way-{each}") for each in WAYS}
        way = st.radio(words.say("figures.way"), WAYS, format_func=names.__getitem__, key="shares-way")
        at = turned(here, "shares", both, _turns(slips))
    found = shares(slips, at["mass"], way, at["off-centre"])
    with top:
        frame.point(_point(here, found, both))
    with right:
        _draw_picture(here, slips, found, both)
    frame.readouts(_rows(here, found, both))
    if min(found.handles) < 0:
        frame.note(words.say("figures.shares-down"))
    frame.note(words.say("figures.shares-note"))
    frame.workings(here, "shares", _inputs(here, slips, at["mass"], at["off-centre"], both))


def _turns(slips: SlipSet) -> Sequence[Turn]:
    return (
        Turn("mass", slips.mass, Span(30, 150, 1), Span(60, 330, 5), "mass"),
        Turn("off-centre", slips.off_centre, Span(0, 150, 5), Span(0, 6, 0.25), "small"),
    )


def _point(here: Here, found: Shares, both: Both) -> str:
    loads = found.by_person
    is_even = max(loads) - min(loads) < 0.05 * max(loads)
    key = "figures.shares-point-even" if is_even else "figures.shares-point"
    return here.words.say(key, count=len(loads), most=both.line(max(loads), "lift"))


def team_factor(people: int) -> str:
    """What of the sum of their strengths a team of so many has, as it is said."""
    return _TEAM[people]


def _rows(here: Here, found: Shares, both: Both) -> list[frame.Row]:
    words = here.words
    people = [
        (words.say("figures.person", letter=_LETTERS[number]), *both.split(load, "lift"))
        for number, load in enumerate(found.by_person)
    ]
    factor = team_factor(len(found.people))
    return [
        *people,
        frame.rate(words, "team-factor", factor),
        frame.row(words, "each-alone", found.each_alone, "lift", both),
    ]


def _draw_picture(here: Here, slips: SlipSet, found: Shares, both: Both) -> None:
    words = here.words
    hands = [[(handle, both.split(mass, "lift")) for handle, mass in held] for held in found.people]
    told = "; ".join(
        f"{words.say('figures.person', letter='ABC'[person])}: {', '.join(both.line(mass, 'lift') for _, mass in held)}"
        for person, held in enumerate(found.people)
    )
    with st.container(key="figures-picture"):
        svg = hand_shares(slips.handles, hands, _LETTERS)
        picture(svg, words.say("figures.shares-alt", people=told), words=words, key="pic-shares", width=520)


def _inputs(here: Here, slips: SlipSet, mass: float, off_centre: float, both: Both) -> list[frame.Row]:
    words = here.words
    return [
        frame.row(words, "in-set-mass", mass, "mass", both),
        frame.rate(words, "in-handles", ", ".join(f"{number(angle, 0)}°" for angle in slips.handles)),
        frame.row(words, "in-radius", slips.handle_radius, "small", both),
        frame.row(words, "in-off-centre", off_centre, "small", both),
    ]
