"""What went into a figure, row by row, for whoever wants to check it by hand."""

from __future__ import annotations

from collections.abc import Iterable

from trainer.core.rig import Rig, SlipSet, inspected_body, new_body, pipe_mass, yield_strength
from trainer.core.units import number
from trainer.mechanics import Section, buoyancy_factor
from trainer.web.figures_frame import Row, rate, row
from trainer.web.figures_units import Both
from trainer.web.wording import day
from trainer.words import Words

__all__ = ["mud_rows", "pipe_rows", "slip_rows", "strength_rows", "string_rows"]


def pipe_rows(words: Words, rig: Rig, both: Both) -> list[Row]:
    """The pipe when it was new."""
    body = new_body(rig.pipe)
    return [
        row(words, "in-od", body.od, "thin", both),
        row(words, "in-nominal", rig.pipe.nominal, "linear", both),
        row(words, "in-wall", (body.od - body.id) / 2, "thin", both),
        row(words, "in-area", body.area, "area", both),
        row(words, "in-mass", pipe_mass(rig.pipe), "linear", both),
    ]


def strength_rows(words: Words, rig: Rig, both: Both) -> list[Row]:
    """The pipe as it was inspected, and its strength; a dash for what the site has not entered."""
    pipe, body = rig.pipe, inspected_body(rig.pipe)
    left = "–" if pipe.wall_left is None else f"{number(pipe.wall_left * 100, 1)} %"
    named = words.say(f"figures.class-{pipe.inspected_class}") if pipe.inspected_class else "–"
    when = day(pipe.inspected_on, words) if pipe.inspected_on else ""
    return [
        rate(words, "in-class", named, when),
        rate(words, "in-wall-left", left),
        row(words, "in-worn-od", body.od if body else None, "thin", both),
        row(words, "in-worn-area", body.area if body else None, "area", both),
        rate(words, "in-grade", pipe.grade),
        row(words, "in-yield", yield_strength(pipe), "stress", both),
    ]


def slip_rows(words: Words, slips: SlipSet, friction: float, both: Both) -> list[Row]:
    """How the slips hold the pipe."""
    return [
        row(words, "in-contact", slips.contact_length, "small", both),
        rate(words, "in-friction", number(friction, 2)),
        rate(words, "in-taper", "1 : 6"),
    ]


def mud_rows(words: Words, mud: float, both: Both) -> list[Row]:
    """The mud and what weight it leaves."""
    left = number(float(buoyancy_factor(mud)), 4)
    return [row(words, "in-mud", mud, "density", both), rate(words, "in-buoyancy", left)]


def string_rows(words: Words, rig: Rig, string: Iterable[Section], both: Both) -> list[Row]:
    """Each section's length, and its mass per length with tool joints."""
    found: list[Row] = []
    for each, name in zip(string, _names(rig), strict=False):
        part = words.say(f"figures.part-{name}")
        length, other_length = both.split(each.length, "long")
        mass, other_mass = both.split(each.mass_per_length, "linear")
        area, other_area = both.split(each.area, "area")
        found.append((part, f"{length}, {mass}, {area}", f"{other_length}, {other_mass}, {other_area}"))
    return found


def _names(rig: Rig) -> list[str]:
    """What the sections are, in the order in which the string is reckoned: drill pipe on top."""
    rest = [each.part for each in rig.string]
    rest.remove("drill-pipe")
    return ["drill-pipe", *rest]
