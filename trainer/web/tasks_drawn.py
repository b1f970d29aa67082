"""Any task on screen: drawn by the part of its kind, the answer back in handles, and said in words afterwards."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import cast

import streamlit as st

from trainer.core.beside import pair_of, rounded
from trainer.core.catalogue import Site
from trainer.core.marking import measured
from trainer.core.shown import ShownChoice, ShownTask, show_task, to_handles
from trainer.core.tasks import (
    Answer,
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    Picture,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickSteps,
    WorkOut,
)
from trainer.core.telling import MISSED, RIGHT, Told
from trainer.core.text import Text
from trainer.errors import BadInput
from trainer.web import cached, parts, shares_drawn
from trainer.web.parts.shapes import Mark
from trainer.web.plain import plain
from trainer.words import Words

__all__ = ["answer_words", "draw", "draw_picture", "draw_sheet", "draw_told", "label_of", "ready"]

_NO_VERDICTS: Mapping[str, parts.Verdict] = {}
_NO_FIGURES: Mapping[str, str] = {}
_NO_NOTES: Mapping[str, tuple[str, ...]] = {}
_LONGEST_NUMBER = 30
_SHEET_WIDTH = 520
"""Wide enough to read a sheet [px], low enough for the first options to stand under it on a tablet."""


def draw(
    task: ShownTask,
    kept: Answer | None,
    *,
    ask: str,
    words: Words,
    key: str,
    verdicts: Mapping[str, parts.Verdict] = _NO_VERDICTS,
    locked: bool = False,
    notes: Mapping[str, tuple[str, ...]] = _NO_NOTES,
) -> Answer | None:
    """What was answered, in handles, in the run in which it changed; ``None`` otherwise.

    ``kept`` is the answer so far. ``key`` is one item's and one try's alone. ``notes`` stand under tokens.
    """
    match task.kind:
        case "point-at":
            return parts.point_at(
                _svg(task.picture, words), _spots(task, words), _listed(kept),
                words=words, key=key, ask=ask, locked=locked, verdicts=verdicts,
            )  # fmt: skip
        case "place-crew":
            return parts.place_crew(
                _svg(task.picture, words), _tokens(task.tokens, notes), _spots(task, words),
                kept if isinstance(kept, Mapping) else {},
                words=words, key=key, at_most=task.at_most, ask=ask, locked=locked, verdicts=verdicts,
            )  # fmt: skip
        case "put-in-order" if task.picture is not None:
            return parts.order_on_picture(
                _svg(task.picture, words), _choices(task, words), _spots(task, words), _listed(kept),
                words=words, key=key, ask=ask, locked=locked, verdicts=verdicts,
            )  # fmt: skip
        case "put-in-order":
            return parts.put_in_order(
                _choices(task, words), _listed(kept),
                words=words, key=key, ask=ask, locked=locked, verdicts=verdicts,
            )  # fmt: skip
        case "tick-steps":
            return _ticks(task, kept, words=words, key=key, locked=locked, verdicts=verdicts)
        case "work-out":
            return _number(task, kept, words=words, key=key, locked=locked)
        case "read-sheet":
            draw_sheet(task, words, f"sheet-{key}")
    several = task.kind == "choose-all"
    chosen = parts.choose(
        _choices(task, words), _listed(kept),
        words=words, key=key, ask=ask, multiple=several, locked=locked, verdicts=verdicts,
    )  # fmt: skip
    return chosen if several or chosen is None else next(iter(chosen), None)


def ready(task: ShownTask, given: Answer | None) -> Answer | None:
    """``given`` when it is enough to be saved, else ``None``.

    Steps left in a list as they came are an answer too; on a picture each one is tapped, on a sheet each row ticked.
    """
    if task.kind == "tick-steps" or (task.kind == "put-in-order" and task.picture is not None):
        return given if given and len(given) == len(task.choices) else None
    if task.kind == "put-in-order":
        return given or tuple(choice.handle for choice in task.choices)
    return given or None


def draw_picture(picture: Picture | None, words: Words, key: str) -> None:
    """The picture, when there is one."""
    if picture is not None:
        done = cached.pictured(picture, words)
        parts.picture(done.svg, done.alt, words=words, key=key)


def draw_sheet(task: ShownTask, words: Words, key: str) -> None:
    """The sheet that is to be read, with its scale under it."""
    assert task.sheet is not None
    done = cached.sheet(task.sheet, words)
    parts.picture(done.svg, done.alt, words=words, key=key, caption=done.caption, width=_SHEET_WIDTH)


def draw_told(
    task: Task,
    order: tuple[str, ...],
    answer: Answer | None,
    told: Iterable[Told],
    *,
    ask: str,
    words: Words,
    key: str,
    parameters: Mapping[str, str] = _NO_FIGURES,
    site: Site | None = None,
) -> None:
    """The task with ``answer``, in ids, in it, nothing to be changed any more, each of ``told`` beside its choice.

    ``parameters`` are the figures drawn for it. With a ``site`` a crew's hands say what each lifts of its set.
    """
    shown = show_task(task, order, words.language, parameters)
    kept = None if answer is None else to_handles(task, order, answer)
    is_single = isinstance(task, ChooseOne | JudgeDrawing | ReadSheet)
    verdicts = {
        cast("tuple[str, ...]", to_handles(task, order, (each.id,)))[0]: parts.Verdict(
            _mark(each, is_single), words.pick(each.why)
        )
        for each in told
    }
    crew = shares_drawn.crew(task, answer, site)
    notes = shares_drawn.notes(task, crew, site, words)
    draw(shown, kept, ask=ask, words=words, key=key, verdicts=verdicts, locked=True, notes=notes)
    if site and isinstance(task, PlaceCrew):
        shares_drawn.tell(task, crew, site, words)


def label_of(task: Task, name: str, words: Words) -> str:
    """What the option, step or spot called ``name`` is called on screen."""
    text: Text | None
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
            text = next(each.text for each in options if each.id == name)
        case ReadSheet(options=told):
            text = next(each.text for each in told if each.id == name)
        case PutInOrder(steps=steps):
            text = next(each.text for each in steps if each.id == name)
        case TickSteps(rows=rows):
            text = next(each.text for each in rows if each.id == name)
        case PointAt(picture=picture) | PlaceCrew(picture=picture):
            return cached.part_name(picture.name, name, words)
        case _:
            text = None
    return words.pick(text) if text else name


def answer_words(task: Task, answer: Answer | None, words: Words) -> str:
    """``answer``, in ids, in one line of words."""
    match task, answer:
        case _, None:
            return words.say("quiz.blank")
        case PlaceCrew(tokens=tokens), Mapping():
            called = {token.id: words.pick(token.text) for token in tokens}
            places = (
                f"{label_of(task, spot, words)}: {', '.join(called[each] for each in there)}"
                for spot, there in answer.items()
            )
            return "; ".join(places)
        case TickSteps(), Mapping():
            return "; ".join(f"{label_of(task, row, words)}: {_state(ticked, words)}" for row, ticked in answer.items())
        case PutInOrder(), tuple():
            return "; ".join(f"{n}. {label_of(task, each, words)}" for n, each in enumerate(answer, start=1))
        case _, tuple():
            return "; ".join(label_of(task, each, words) for each in answer)
    if isinstance(task, WorkOut):
        return _measure_words(task, str(answer))
    return label_of(task, str(answer), words)


def _state(ticked: tuple[str, ...], words: Words) -> str:
    return words.say(f"parts.state-{ticked[0].replace(' ', '-')}")


def _measure_words(task: WorkOut, answer: str) -> str:
    """A number with its unit, the other unit's figure beside it where it can be read."""
    pair = pair_of(task.unit)
    if pair is None:
        return f"{answer} {task.unit}".strip()
    try:
        value = measured(task, answer)
    except BadInput:
        return answer
    if answer.endswith(pair.us):
        return f"{answer} ({rounded(value)} {task.unit})"
    return f"{answer} {task.unit} ({rounded(value / pair.size)} {pair.us})"


def _mark(each: Told, is_single: bool) -> Mark:
    # Where only one can be chosen, "left out" would be an odd thing to say of the right one.
    return cast("Mark", RIGHT if is_single and each.mark == MISSED else each.mark)


def _svg(picture: Picture | None, words: Words) -> str:
    assert picture is not None
    return cached.pictured(picture, words).svg


def _listed(kept: Answer | None) -> Sequence[str]:
    if kept is None or isinstance(kept, Mapping):
        return ()
    return (kept,) if isinstance(kept, str) else kept


def _choices(task: ShownTask, words: Words) -> list[parts.Choice]:
    return [_choice(each, words) for each in task.choices]


def _choice(each: ShownChoice, words: Words) -> parts.Choice:
    if each.picture is None:
        return parts.Choice(each.handle, each.text)
    done = cached.pictured(each.picture, words)
    return parts.Choice(each.handle, each.text, done.svg, done.alt)


def _spots(task: ShownTask, words: Words) -> list[parts.Spot]:
    assert task.picture is not None
    name = task.picture.name
    places = cached.drawing(name).spots
    return [
        parts.Spot(each.handle, cached.part_name(name, each.part, words), *places[each.part]) for each in task.choices
    ]


def _tokens(tokens: Iterable[ShownChoice], notes: Mapping[str, tuple[str, ...]]) -> list[parts.Token]:
    return [
        parts.Token(each.handle, each.text, _badge(each.text), each.person, notes.get(each.handle, ()))
        for each in tokens
    ]


def _badge(text: str) -> str:
    """One or two letters for a token such as ``A, left hand``: those of one person look alike, as they may."""
    called = text.partition(",")[0].split()
    return "".join(word[0] for word in called[:2]).upper()


def _ticks(
    task: ShownTask,
    kept: Answer | None,
    *,
    words: Words,
    key: str,
    locked: bool,
    verdicts: Mapping[str, parts.Verdict],
) -> Answer | None:
    """Every row ticked so far, on the sheet that observers tick."""
    steps = [parts.Tick(each.handle, each.text, each.critical) for each in task.choices]
    before = {row: parts.Ticked(state) for row, (state,) in kept.items()} if isinstance(kept, Mapping) else {}
    sent = parts.step_ticks(steps, before, words=words, key=key, locked=locked, noted=False, verdicts=verdicts)
    return None if sent is None else {row: (each.state,) for row, each in sent.items()}


def _number(task: ShownTask, kept: Answer | None, *, words: Words, key: str, locked: bool) -> Answer | None:
    """The number with the unit that was chosen for it; nothing is assumed where there are two."""
    before = kept if isinstance(kept, str) else ""
    number, unit = _taken_apart(before, task.units)
    label = plain(words.say("quiz.number", unit=" / ".join(task.units)))
    typed = st.text_input(label, value=number, key=key, max_chars=_LONGEST_NUMBER, disabled=locked, autocomplete="off")
    if len(task.units) > 1:
        unit = _unit(task.units, unit, words=words, key=f"unit-{key}", locked=locked)
        if typed and not unit:
            st.markdown(f"**{words.say('quiz.unit-too')}**")
    now = typed if unit == task.units[0] else f"{typed} {unit}"
    return now if typed and unit and now != before else None


def _taken_apart(kept: str, units: Sequence[str]) -> tuple[str, str]:
    """The number and the unit of a kept answer; no unit where none was chosen yet."""
    for unit in units[1:]:
        if kept.endswith(f" {unit}"):
            return kept.removesuffix(f" {unit}"), unit
    return kept, units[0] if kept or len(units) == 1 else ""


def _unit(units: Sequence[str], chosen: str, *, words: Words, key: str, locked: bool) -> str:
    label = words.say("quiz.unit")
    return st.pills(label, units, default=chosen or None, key=key, disabled=locked) or ""
