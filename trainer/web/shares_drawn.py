"""What each hand lifts of the set, said once a crew is placed: on the hands, by person, and both ways of two."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from trainer.core.catalogue import Site
from trainer.core.lifted import WAYS_OF_TWO, Crew, crew_of, lifted_set, of_two, way_of_two
from trainer.core.tasks import Answer, PlaceCrew, Task
from trainer.core.units import US, Kind, from_si
from trainer.web import cached
from trainer.web.plain import plain
from trainer.words import Words

__all__ = ["crew", "notes", "tell"]

_TWO = 2


def crew(task: Task, answer: Answer | None, site: Site | None) -> Crew | None:
    """Who lifts what of the site's set; ``None`` where nobody is placed on handles."""
    if site is None or not isinstance(task, PlaceCrew) or not isinstance(answer, Mapping):
        return None
    return crew_of(task, answer, lifted_set(site))


def notes(task: Task, placed: Crew | None, site: Site | None, words: Words) -> Mapping[str, tuple[str, ...]]:
    """What to write under each token, by its handle on screen."""
    if placed is None or site is None or not isinstance(task, PlaceCrew):
        return {}
    return {
        f"t{number}": _figures(placed.by_token[token.id], site, words)
        for number, token in enumerate(task.tokens, start=1)
        if token.id in placed.by_token
    }


def tell(task: PlaceCrew, placed: Crew | None, site: Site, words: Words) -> None:
    """Under the drawing: what each person lifts, what the set weighs, and for two people the other way, too."""
    if placed is None:
        return
    if placed.empty:
        where = "; ".join(cached.part_name(task.picture.name, each, words) for each in placed.empty)
        st.markdown(plain(words.say("shares.empty", where=where)))
        return
    said = [
        words.say("shares.person", who=_name(words.pick(each.text)), weight=_weight(each.mass, site, words))
        for each in placed.people
    ]
    st.markdown(f"**{plain(' '.join(said))}**")
    st.markdown(plain(words.say("shares.whole", weight=_weight(lifted_set(site).mass, site, words))))
    if len(placed.people) == _TWO:
        _both_ways(site, words)


def _both_ways(site: Site, words: Words) -> None:
    """Both ways in which two people lift the set, with the one that the site has picked."""
    here = way_of_two(site)
    lines = []
    for way in WAYS_OF_TWO:
        one, other = (_weight(each, site, words) for each in of_two(lifted_set(site), way))
        line = words.say(f"shares.{way}", one=one, other=other)
        lines.append(f"- {plain(words.say('shares.site-way', way=line) if way == here else line)}")
    st.markdown("\n".join([words.say("shares.both-ways"), "", *lines]))
    if not here:
        st.markdown(words.say("shares.site-asks"))


def _name(text: str) -> str:
    """The person, of a token such as ``A, left hand``."""
    return text.partition(",")[0]


def _weight(mass: float, site: Site, words: Words) -> str:
    first, second = _figures(mass, site, words)
    return words.say("shares.weight", first=first, second=second)


def _figures(mass: float, site: Site, words: Words) -> tuple[str, str]:
    """``mass`` in both units, that of the site's own system first."""
    kg = words.say("shares.kg", kg=f"{mass:.0f}")
    lb = words.say("shares.lb", lb=f"{from_si(mass, 'lb', Kind.MASS):.0f}")
    return (lb, kg) if site.rig and site.rig.units == US else (kg, lb)
