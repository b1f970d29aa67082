"""Rules on competencies and site figures without which no standing can be decided."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator
from datetime import date

import numpy as np

from trainer.core.catalogue import Competency, Site
from trainer.core.durations import Duration, after_each, text
from trainer.curriculum.checks.family import Check
from trainer.curriculum.checks.ids import repeated
from trainer.curriculum.loaded import COMPETENCIES, SITE, Loaded
from trainer.curriculum.nodes import Listed, Path
from trainer.errors import Problem

__all__ = ["NEEDED", "crew_problems", "no_such_positions"]

_FOUR_YEARS = np.arange(date(2024, 1, 1).toordinal(), date(2028, 1, 1).toordinal(), dtype=np.int32)


def same_ids(loaded: Loaded) -> list[Problem]:
    """Two competencies under one id."""
    entries = loaded.nodes.get(COMPETENCIES)
    return [*repeated(COMPETENCIES, entries, (), entries)] if isinstance(entries, Listed) else []


def unknown_after(loaded: Loaded) -> list[Problem]:
    """An ``after`` that names no competency."""
    return [
        loaded.problem(COMPETENCIES, (each.id, "after"), f'there is no competency "{name}"', "write one from this file")
        for each in loaded.competencies
        for name in each.after
        if not loaded.knows_competency(name)
    ]


def circles(loaded: Loaded) -> list[Problem]:
    """Competencies that wait for each other: none of them could ever be held."""
    graph = {each.id: each.after for each in loaded.competencies}
    return [
        loaded.problem(
            COMPETENCIES,
            (circle[0], "after"),
            f"goes round in a circle: {' after '.join(circle)}",
            "take one of them out",
        )
        for circle in _circles(graph)
    ]


def _circles(graph: dict[str, tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    """Each circle once, beginning and ending with the one of its members that stands first."""
    done: set[str] = set()
    for start in graph:
        if start not in done:
            circle = _way_back(graph, start)
            if circle:
                done.update(circle)
                yield circle


def _way_back(graph: dict[str, tuple[str, ...]], start: str) -> tuple[str, ...]:
    """The shortest way from ``start`` to itself, or nothing."""
    ways: list[tuple[str, ...]] = [(start,)]
    seen = {start}
    for way in ways:
        for name in graph.get(way[-1], ()):
            if name == start:
                return (*way, name)
            if name not in seen:
                seen.add(name)
                ways.append((*way, name))
    return ()


def after_without_position(loaded: Loaded) -> list[Problem]:
    """An ``after`` that is not for a position which needs this one, so that it could never be held there."""
    known = {each.id: each for each in loaded.competencies}
    return [
        loaded.problem(
            COMPETENCIES,
            (each.id, "after"),
            f'"{name}" is not for {", ".join(lacking)}',
            f'add {"it" if len(lacking) == 1 else "them"} to "for" of {name}, or take {name} out here',
        )
        for each in loaded.competencies
        for name in each.after
        if name in known and (lacking := _lacking(each, known[name]))
    ]


def _lacking(competency: Competency, earlier: Competency) -> list[str]:
    return [each for each in competency.positions if each not in earlier.positions]


def cap_below_term(loaded: Loaded) -> list[Problem]:
    """An ``at_most`` that is shorter than ``good_for``."""
    return [
        loaded.problem(
            COMPETENCIES,
            (each.id, "needs", "knowledge", "at_most"),
            f"{text(knowledge.at_most)} is less than good_for, {text(knowledge.good_for)}",
            "make it longer, or leave it out",
        )
        for each in loaded.competencies
        if (knowledge := each.needs.knowledge)
        and knowledge.at_most
        and _is_shorter(knowledge.at_most, knowledge.good_for)
    ]


def _is_shorter(one: Duration, other: Duration) -> bool:
    """Whether ``one`` ends earlier than ``other`` from some day on, and later from none.

    Months have no fixed length, so every starting day of four years is tried: P365D is shorter than P12M (leap years),
    while P3M and P90D are each the longer one from some day.
    """
    ends, others = after_each(_FOUR_YEARS, one), after_each(_FOUR_YEARS, other)
    return bool((ends < others).any() and (ends <= others).all())


def unknown_positions(loaded: Loaded) -> list[Problem]:
    """A ``for`` that names a position which the site lacks: a warning, for a standing can be decided without it."""
    if loaded.site is None:
        return []
    return [
        loaded.problem(
            COMPETENCIES,
            (each.id, "for"),
            f'site.yaml has no position "{name}"',
            f"write one of {', '.join(loaded.site.positions)}",
            warning=True,
        )
        for each in loaded.competencies
        for name in each.positions
        if name not in loaded.site.positions
    ]


def no_such_positions(loaded: Loaded) -> list[Problem]:
    """The same as problems: before anybody is taught, a name that was misspelt is put right."""
    return [dataclasses.replace(each, is_warning=False) for each in unknown_positions(loaded)]


def crews(loaded: Loaded) -> list[Problem]:
    """Rotations that say too little to tell a working day."""
    found = crew_problems(loaded.site) if loaded.site is not None else []
    return [loaded.problem(SITE, path, what, todo) for path, what, todo in found]


def crew_problems(site: Site) -> list[tuple[Path, str, str]]:
    """Each (path, what, what to do) about the crews of ``site``."""
    found: list[tuple[Path, str, str]] = []
    for name, crew in site.crews.items():
        if crew.start is not None and crew.on < 2:
            found.append((("crews", name), 'a start without "on" days', "add on: 14, at least 2"))
        if crew.start is None and (crew.on or crew.off):
            found.append((("crews", name), 'no "start"', "add the first day of a hitch, e.g. start: 2026-01-05"))
    return found


def languages(loaded: Loaded) -> list[Problem]:
    """Languages that the site calls complete or gives calls in, and does not have."""
    if loaded.site is None:
        return []
    wanted = ((("complete",), loaded.site.complete), (("calls_language",), (loaded.site.calls_language,)))
    return [
        loaded.problem(SITE, path, f'"{language}" is not in languages', "add it there", warning=True)
        for path, names in wanted
        for language in _not_in(names, loaded.site.languages)
    ]


def _not_in(names: Iterable[str], known: tuple[str, ...]) -> list[str]:
    return [each for each in names if each not in known]


NEEDED: tuple[Check, ...] = (
    same_ids,
    unknown_after,
    circles,
    after_without_position,
    cap_below_term,
    unknown_positions,
    crews,
    languages,
)
"""The checks that every command runs."""
