"""Rules on figures in sentences: those drawn for a question stand in it, those bound to the rig can be worked out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from trainer.core.banks import Item
from trainer.core.beside import BESIDE
from trainer.core.bound import CONSEQUENCES, figure_names, sentences, value_of
from trainer.core.lessons import Scene
from trainer.core.tasks import ChooseOne, Option, ReadSheet, SheetOption, Spot, Task, TickRow, WorkOut
from trainer.core.text import Text
from trainer.curriculum.checks.workout import us_problems
from trainer.curriculum.loaded import Loaded, bank_file, lesson_file
from trainer.curriculum.nodes import Path
from trainer.errors import MechanicsRangeError, Problem

__all__ = ["bound_figures", "drawn_figures"]

Found = Iterator[tuple[Path, str, str]]

_PLACE = re.compile(r"\{([\w:-]*)\}")


def drawn_figures(loaded: Loaded) -> list[Problem]:
    """Questions that do not show each figure drawn for them, or have a place for one that is not drawn."""
    found = []
    for bank in loaded.banks.values():
        for item in bank.items:
            for path, what, todo in _shown(loaded, item.task, _asked(item)):
                found.append(loaded.problem(bank_file(bank.id), ("items", item.id, *path), what, todo))
    for lesson in loaded.lessons.values():
        for scene in lesson.scenes:
            asked: dict[Path, Text] = {("text",): scene.text, **({("ask",): scene.ask} if scene.ask else {})}
            for path, what, todo in _shown(loaded, scene.task, asked):
                found.append(loaded.problem(lesson_file(lesson.id), ("scenes", scene.id, *path), what, todo))
    return found


def _asked(item: Item) -> dict[Path, Text]:
    return {("text",): item.text, **({("situation",): item.situation} if item.situation else {})}


def _shown(loaded: Loaded, task: Task | None, texts: Mapping[Path, Text]) -> Found:
    """What is wrong with the places of ``texts``, together the question of ``task``, in each language."""
    may, must = _figures_of(task)
    first = next(iter(texts))
    for language in next(iter(texts.values())):
        named: set[str] = set()
        for path, text in texts.items():
            places = {name for name in _PLACE.findall(text.get(language, "")) if not name.startswith("figure:")}
            named |= places
            for name in sorted(places - may):
                known = ", ".join(f"{{{each}}}" for each in sorted(must or may)) or "none"
                yield (*path, language), f'no figure "{name}" is drawn', f"write one of these: {known}"
        if lacking := sorted(must - named):
            wanted = ", ".join(f"{{{name}}}" for name in lacking)
            yield (*first, language), "does not show the figures drawn", f"write each once: {wanted}"
        if isinstance(task, WorkOut):
            for below, what, todo in us_problems(task, named, loaded.functions):
                yield ("task", *below), what, todo


def _figures_of(task: Task | None) -> tuple[set[str], set[str]]:
    """The places that a question to ``task`` may have, and those that it must have."""
    match task:
        case WorkOut(parameters=parameters):
            return _with_us(parameters), set(parameters)
        case ReadSheet(options=options):
            sheets = [set(sheet) for option in options for sheet in option.sheets]
            return _with_us(set.intersection(*sheets) if sheets else set()), set()
        case _:
            return set(), set()


def _with_us(names: Iterable[str]) -> set[str]:
    return {each for name in names for each in (name, *(f"{name}_{suffix}" for suffix in BESIDE))}


def bound_figures(loaded: Loaded) -> list[Problem]:
    """Figures of scenes that are not there, not used, or cannot be worked out on the rig of the site's template."""
    return [
        loaded.problem(lesson_file(lesson.id), ("scenes", scene.id, *path), what, todo)
        for lesson in loaded.lessons.values()
        for scene in lesson.scenes
        for path, what, todo in (*_places(scene), *_unused(scene), *_worked(loaded, scene))
    ]


def _places(scene: Scene) -> Found:
    """Places for figures that the scene does not have, in sentences where they are not filled, or all in one text."""
    for path, text in _sentences(scene):
        is_filled = path[0] == "text" or path[-1] == "then"
        for language, sentence in text.items():
            names = figure_names(sentence)
            if names and not is_filled:
                yield (*path, language), "a figure of the rig is not filled in here", "say it in text or in a then"
            for name in names:
                if name not in scene.figures:
                    known = ", ".join(scene.figures) or "none"
                    yield (*path, language), f'there is no figure "{name}"', f"add it under figures; there are: {known}"
            if names and not sentences(sentence, {}):
                what = "nothing is left where the rig's figures are not known"
                yield (*path, language), what, "add a sentence without one"


def _sentences(scene: Scene) -> Iterator[tuple[Path, Text]]:
    """Each sentence of the scene that may be read by a hand, with its place."""
    for name in ("title", "text", "ask", "right"):
        text = getattr(scene, name)
        if text is not None:
            yield (name,), text
    for list_name, each in _choices(scene.task):
        name = each.part if isinstance(each, Spot) else each.id
        for key in ("text", "why", "then"):
            text = getattr(each, key, None)
            if text is not None:
                yield ("task", list_name, name, key), text


def _choices(task: Task | None) -> Iterator[tuple[str, Option | Spot | SheetOption | TickRow]]:
    for name in ("options", "steps", "spots", "rows"):
        for each in getattr(task, name, ()):
            if not isinstance(each, str):
                yield name, each


def _unused(scene: Scene) -> Found:
    used = {name for _, text in _sentences(scene) for sentence in text.values() for name in figure_names(sentence)}
    for name in scene.figures:
        if name not in used:
            yield ("figures", name), "no sentence names it", f"write {{figure:{name}}}, or leave it out"
    if scene.figures and not isinstance(scene.task, ChooseOne | ReadSheet | None):
        told = [path for path, text in _sentences(scene) if path[-1] == "then" and figure_names(text["en"])]
        for path in told:
            yield path, "what follows is not told beside this kind of task", "name the figure in text"


def _worked(loaded: Loaded, scene: Scene) -> Found:
    site = loaded.site
    for name, figure in scene.figures.items():
        if figure.function not in CONSEQUENCES:
            known = ", ".join(CONSEQUENCES)
            yield ("figures", name, "function"), f'there is no figure "{figure.function}"', f"write one of: {known}"
            continue
        arguments = CONSEQUENCES[figure.function].arguments
        if set(figure.arguments) != set(arguments):
            wanted = ", ".join(f"{each} (a {kind})" for each, kind in arguments.items()) or "none"
            yield ("figures", name), "other arguments than it takes", f"give these: {wanted}"
        elif site is not None and site.rig is not None:
            try:
                value_of(figure, site.rig, site.figures)
            except (MechanicsRangeError, ValueError) as error:
                yield ("figures", name), f"cannot be worked out on the template's rig: {error}", "change its arguments"
