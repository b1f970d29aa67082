"""Any task on screen: drawn by the part of its kind, the answer back in handles, and said in words afterwards."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import cast

import streamlit as st

from trainer.core.shown import ShownChoice, ShownTask, show_task, to_handles
from trainer.core.tasks import Answer, ChooseAll, ChooseOne, JudgeDrawing, Picture, PlaceCrew, PointAt, PutInOrder, Task
from trainer.core.telling import MISSED, RIGHT, Told
from trainer.web import cached, parts
from trainer.web.parts.shapes import Mark
from trainer.web.plain import plain
from trainer.words import Words

__all__ = ["answer_words", "draw", "draw_picture", "draw_told", "label_of", "ready"]

_NO_VERDICTS: Mapping[str, parts.Verdict] = {}
_LONGEST_NUMBER = 30


def draw(
    task: ShownTask,
    kept: Answer | None,
    *,
    ask: str,
    words: Words,
    key: str,
    verdicts: Mapping[str, parts.Verdict] = _NO_VERDICTS,
    locked: bool = False,
) -> Answer | None:
    """What was answered, in handles, in the run in which it changed; ``None`` otherwise.

    ``kept`` is the answer so far. ``key`` is one item's and one try's alone.
    """
    match task.kind:
        case "point-at":
            return parts.point_at(
                _svg(task.picture, words), _spots(task, words), _listed(kept),
                words=words, key=key, ask=ask, locked=locked, verdicts=verdicts,
            )  # fmt: skip
        case "place-crew":
            return parts.place_crew(
                _svg(task.picture, words), _tokens(task.tokens), _spots(task, words),
                kept if isinstance(kept, Mapping) else {},
                words=words, key=key, at_most=task.at_most, ask=ask, locked=locked, verdicts=verdicts,
            )  # fmt: skip
        case "put-in-order":
            return parts.put_in_order(
                _choices(task, words), _listed(kept),
                words=words, key=key, ask=ask, locked=locked, verdicts=verdicts,
            )  # fmt: skip
        case "work-out":
            return _number(task, kept, words=words, key=key, locked=locked)
    several = task.kind == "choose-all"
    chosen = parts.choose(
        _choices(task, words), _listed(kept),
        words=words, key=key, ask=ask, multiple=several, locked=locked, verdicts=verdicts,
    )  # fmt: skip
    return chosen if several or chosen is None else next(iter(chosen), None)


def ready(task: ShownTask, given: Answer | None) -> Answer | None:
    """``given`` when it is enough to be saved, else ``None``. Steps left as they came are an answer too."""
    if task.kind == "put-in-order":
        return given or tuple(choice.handle for choice in task.choices)
    return given or None


def draw_picture(picture: Picture | None, words: Words, key: str) -> None:
    """The picture, when there is one."""
    if picture is not None:
        done = cached.pictured(picture, words)
        parts.picture(done.svg, done.alt, key=key)


def draw_told(
    task: Task, order: tuple[str, ...], answer: Answer | None, told: Iterable[Told], *, ask: str, words: Words, key: str
) -> None:
    """The task with ``answer``, in ids, in it, nothing to be changed any more, each of ``told`` beside its choice."""
    shown = show_task(task, order, words.language)
    kept = None if answer is None else to_handles(task, order, answer)
    is_single = isinstance(task, ChooseOne | JudgeDrawing)
    verdicts = {
        cast("tuple[str, ...]", to_handles(task, order, (each.id,)))[0]: parts.Verdict(
            _mark(each, is_single), words.pick(each.why)
        )
        for each in told
    }
    draw(shown, kept, ask=ask, words=words, key=key, verdicts=verdicts, locked=True)


def label_of(task: Task, name: str, words: Words) -> str:
    """What the option, step or spot called ``name`` is called on screen."""
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
            text = next(each.text for each in options if each.id == name)
        case PutInOrder(steps=steps):
            text = next(each.text for each in steps if each.id == name)
        case PointAt(picture=picture) | PlaceCrew(picture=picture):
            return cached.part_name(picture.name, name, words.language)
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
        case PutInOrder(), tuple():
            return "; ".join(f"{n}. {label_of(task, each, words)}" for n, each in enumerate(answer, start=1))
        case _, tuple():
            return "; ".join(label_of(task, each, words) for each in answer)
    unit = getattr(task, "unit", "")
    return f"{label_of(task, str(answer), words)} {unit}".strip()


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
        parts.Spot(each.handle, cached.part_name(name, each.part, words.language), *places[each.part])
        for each in task.choices
    ]


def _tokens(tokens: Iterable[ShownChoice]) -> list[parts.Token]:
    return [parts.Token(each.handle, each.text, _badge(each.text), each.person) for each in tokens]


def _badge(text: str) -> str:
    """One or two letters for a token such as ``A, left hand``: those of one person look alike, as they may."""
    called = text.partition(",")[0].split()
    return "".join(word[0] for word in called[:2]).upper()


def _number(task: ShownTask, kept: Answer | None, *, words: Words, key: str, locked: bool) -> Answer | None:
    before = kept if isinstance(kept, str) else ""
    label = plain(words.say("quiz.number", unit=task.unit))
    typed = st.text_input(label, value=before, key=key, max_chars=_LONGEST_NUMBER, disabled=locked, autocomplete="off")
    return typed if typed and typed != before else None
