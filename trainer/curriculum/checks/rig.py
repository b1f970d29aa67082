"""Rules on the rig's own figures, so that every figure that a screen works out has what it needs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import TypeAlias

from trainer.core.rig import (
    LEAST_WALL,
    PARTS,
    Rig,
    RigPipe,
    RigSection,
    SlipSet,
    known_size,
    new_body,
    pipe_mass,
    sections,
    yield_strength,
)
from trainer.curriculum.checks.site_limits import refused_places
from trainer.curriculum.loaded import SITE, Loaded
from trainer.curriculum.nodes import Path
from trainer.errors import MechanicsRangeError, Problem
from trainer.mechanics import PIPES, area, handle_shares, hanging_load, stick_up_limit, stress_ratio

__all__ = ["rig_figures"]

_Found: TypeAlias = "tuple[Path, str, str, bool]"
"""Where below ``rig``, what, what to do, and whether it is only a warning."""

_HANDLES = 3
_SAME_OD = 0.002

_PLACES: Mapping[str, Path] = MappingProxyType(
    {
        "friction": ("friction",),
        "mud_density": ("mud",),
        "torque": ("tongs", "torque"),
        "arm": ("tongs", "arm"),
    }
)
"""An argument of a formula and the figure that it is, whichever sum it was in."""


def rig_figures(loaded: Loaded) -> list[Problem]:
    """Figures of the rig that do not fit each other, or lie outside what the formulas cover."""
    if loaded.site is None or loaded.site.rig is None:
        return []
    rig, told = loaded.site.rig, refused_places(loaded.site)
    found = [*_pipe(rig.pipe), *_string(rig), *_slips(loaded, rig)]
    wrong = [path for path, *_, is_warning in found if not is_warning]
    found += [each for each in _ranges(rig) if ("rig", *each[0]) not in told and not _is_told(each[0], wrong)]
    return [
        loaded.problem(SITE, ("rig", *path), what, todo, warning=is_warning)
        # One figure may be in several sums: it is told once.
        for path, what, todo, is_warning in dict.fromkeys(found)
    ]


def _is_told(path: Path, wrong: Sequence[Path]) -> bool:
    """Whether what is wrong at ``path`` comes of a figure at or below it that was named already."""
    return any(each[: len(path)] == path for each in wrong)


def _pipe(pipe: RigPipe) -> Iterator[_Found]:
    sizes = f"write one of {', '.join(PIPES)}, or add"
    if pipe.wall is None and known_size(pipe) is None:
        yield ("pipe", "nominal"), "the table has no pipe of this size and weight", f"{sizes} wall: 9.2 mm", False
    elif pipe.wall is not None and not 0 < 2 * pipe.wall < pipe.od:
        yield ("pipe", "wall"), "the wall is thicker than the pipe", "write the new wall, e.g. 9.2 mm", False
    try:
        pipe_mass(pipe)
    except ValueError:
        yield ("pipe", "nominal"), "the table has no mass for this pipe", f"{sizes} mass: 31.1 kg/m", False
    yield from _inspection(pipe)


def _inspection(pipe: RigPipe) -> Iterator[_Found]:
    name, left = pipe.inspected_class, pipe.wall_left
    if (name is None) != (left is None):
        lacking = "wall_left" if left is None else "inspected_class"
        yield ("pipe",), f'"{lacking}" is missing', "write both from the inspection report, or leave both out", False
    if left is not None and not 0 < left <= 1:
        yield ("pipe", "wall_left"), "not a share of the new wall", "write e.g. 84 %", False
    elif name is not None and left is not None and left < LEAST_WALL[name]:
        what = f"{name} has {LEAST_WALL[name]:.1%} of its wall left, or more"
        yield ("pipe", "wall_left"), what, "look at the inspection report again", True


def _string(rig: Rig) -> Iterator[_Found]:
    if not rig.string or rig.string[0].part != PARTS[0]:
        yield ("string",), "the string does not begin with drill-pipe", "list it from the slips down", False
    for number, each in enumerate(rig.string, 1):
        yield from _section(each, ("string", number))


def _section(section: RigSection, path: Path) -> Iterator[_Found]:
    if section.part == PARTS[0]:
        return
    for name in ("od", "bore", "mass"):
        if getattr(section, name) is None:
            yield path, f'"{name}" is missing', "add it: only drill-pipe has it from the pipe in use", False
    if section.od is not None and section.bore is not None and section.bore >= section.od:
        yield (*path, "bore"), "the bore is not smaller than the outside", "write the inside diameter", False


def _slips(loaded: Loaded, rig: Rig) -> Iterator[_Found]:
    if not any(abs(each.pipe_od - rig.pipe.od) < _SAME_OD for each in rig.slips.values()):
        yield ("slips",), "no set fits the pipe in use", "add the set for it", False
    known = loaded.site.gear if loaded.site is not None else {}
    for name, each in rig.slips.items():
        if known and name not in known:
            yield ("slips", name), "gear has no set of this name", f"write one of {', '.join(known)}", True
        if len(each.handles) != _HANDLES or len(set(each.handles)) != _HANDLES or max(each.handles) >= 360:
            yield ("slips", name, "handles"), "not three angles from 0 to 359", "write e.g. [0, 120, 240]", False


def _ranges(rig: Rig) -> Iterator[_Found]:
    for path, work_out in _sums(rig):
        try:
            work_out()
        except MechanicsRangeError as error:
            place = _PLACES.get(error.argument, path)
            yield place, f"{error.argument} = {error.value} is out of range", f"keep to {error.allowed}", False
        except (ValueError, IndexError):
            # The pipe or the string does not stand, which was told where it is.
            continue


def _sums(rig: Rig) -> Iterator[tuple[Path, Callable[[], object]]]:
    """What a screen will work out with these figures, each with the place to look at when it cannot."""
    yield ("pipe", "od"), lambda: area(new_body(rig.pipe).od, new_body(rig.pipe).id)
    yield ("string",), lambda: sections(rig, rig.string[0].length)
    yield ("string",), lambda: hanging_load(sections(rig, rig.string[0].length), rig.mud)
    yield ("tongs",), lambda: _bending(rig)
    for name, each in rig.slips.items():
        yield (
            ("slips", name, "contact_length"),
            lambda each=each: stress_ratio(  # type: ignore[misc]
                each.pipe_od, each.contact_length, rig.friction
            ),
        )
        yield ("slips", name), lambda each=each: _balance(each)  # type: ignore[misc]


def _bending(rig: Rig) -> object:
    body, tongs = new_body(rig.pipe), rig.tongs
    return stick_up_limit(body.od, body.id, yield_strength(rig.pipe), 0.0, tongs.torque, tongs.arm, int(tongs.layout))


def _balance(slips: SlipSet) -> object:
    return handle_shares(slips.mass, slips.handles, slips.handle_radius, (slips.off_centre, 0.0))
