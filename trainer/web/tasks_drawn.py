"""Any task on screen: drawn by the part of its kind, the answer back in handles, and said in words afterwards."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import streamlit as st

from trainer.core.beside import pair_of, rounded
from trainer.core.catalogue import Site
from trainer.core.marking import measured, number
from trainer.core.shown import ShownChoice, ShownTask, show_task, to_handles
from trainer.core.tasks import (
    Answer,
    Picture,
    PlaceCrew,
    PutInOrder,
    Task,
    TickSteps,
    WorkOut,
)
from trainer.core.telling import Told
from trainer.errors import BadInput
from trainer.web import cached, parts, shares_drawn
from trainer.web.plain import plain
from trainer.web.verdicts import beside, label_of
from trainer.words import Words

__all__ = ["answer_words", "draw", "draw_picture", "draw_sheet", "draw_told", "label_of", "ready"]

_NO_VERDICTS: Mapping[str, parts.Verdict] = {}
_NO_FIGURES: Mapping[str, str] = {}
_NO_NOTES: Mapping[str, tuple[str, ...]] = {}
_LONGEST_NUMBER = 30
_LONGEST_SIDE = 5
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

    Every step has its place, every row its tick, everybody a spot, and a number is one.
    """
    if not given:
        return None
    match task.kind:
        case "tick-steps" | "put-in-order":
            return given if len(given) == len(task.choices) else None
        case "place-crew" if isinstance(given, Mapping):
            return given if sum(map(len, given.values())) == len(task.tokens) else None
        case "work-out":
            return given if _is_number(_taken_apart(str(given), task.units)[0]) else None
    return given


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
    crew = shares_drawn.crew(task, answer, site)
    notes = shares_drawn.notes(task, crew, site, words)
    draw(
        shown, kept, ask=ask, words=words, key=key, verdicts=beside(task, order, told, words), locked=True, notes=notes
    )
    if site and isinstance(task, PlaceCrew):
        shares_drawn.tell(task, crew, site, words)


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


def _tokens(tokens: Sequence[ShownChoice], notes: Mapping[str, tuple[str, ...]]) -> list[parts.Token]:
    return [
        parts.Token(each.handle, each.text, _badge(each.text), each.person, notes.get(each.handle, ()), side)
        for each, side in zip(tokens, _sides(tokens), strict=True)
    ]


def _badge(text: str) -> str:
    """One or two letters for a token such as ``A, left hand``: those of one person look alike, as they may."""
    called = text.partition(",")[0].split()
    return "".join(word[0] for word in called[:2]).upper()


def _sides(tokens: Sequence[ShownChoice]) -> list[str]:
    """Which hand each token is, ``left`` of ``A, left hand``: the words that not all of them have, cut to fit on it."""
    said = [each.text.partition(",")[2].split() for each in tokens]
    shared = set.intersection(*map(set, said)) if said else set()
    return [_cut(next((word for word in each if word not in shared), "")) for each in said]


def _cut(word: str) -> str:
    return word if len(word) <= _LONGEST_SIDE else f"{word[:3]}."


def _is_number(typed: str) -> bool:
    try:
        number(typed)
    except BadInput:
        return False
    return True


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
    figure, unit = _taken_apart(before, task.units)
    has_units = len(task.units) > 1
    # With the units as buttons under it, both of them in its name would read as one.
    label = words.say("quiz.number-alone") if has_units else words.say("quiz.number", unit=task.units[0])
    typed = st.text_input(
        plain(label), value=figure, key=key, max_chars=_LONGEST_NUMBER, disabled=locked, autocomplete="off"
    ).strip()
    if has_units:
        unit = _unit(task.units, unit, words=words, key=f"unit-{key}", locked=locked)
    # Under the units: a line that comes in above them would move them from under a thumb.
    if typed and not _is_number(typed):
        st.markdown(f"**{plain(words.say('error.not-a-number', value=typed))}**")
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
