"""Marking: one answer against its task, one form against its bank.

A number to work out gets its key from a named pure function in a table that the caller passes in; nothing is ever
evaluated as code.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import isfinite
from typing import TypeAlias

from trainer.core.banks import Bank, Item
from trainer.core.beside import Pair, beside, pair_of
from trainer.core.checklists import STATES
from trainer.core.forms import DrawnItem, Form, decimal_text, grid, option_ids
from trainer.core.placing import places, right_places
from trainer.core.sheets import as_drawn
from trainer.core.tasks import (
    Answer,
    ChooseAll,
    ChooseOne,
    DrawnTask,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickSteps,
    WorkOut,
)
from trainer.core.text import Text
from trainer.errors import BadInput, TrainerError

__all__ = [
    "Functions",
    "ItemResult",
    "Marked",
    "QuizResult",
    "Uncertain",
    "critical_objectives",
    "mark",
    "mark_task",
    "measured",
    "number",
    "readable",
    "result",
    "right_answer",
    "uncertain",
    "unlike_in_us",
    "worked_key",
]

Functions: TypeAlias = Mapping[str, Callable[..., float]]
"""Named pure functions of numbers by keyword; a task to work out names one of them."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)")
_LONGEST_NUMBER = 30
_KEY_DIGITS = ".12g"


@dataclass(frozen=True, slots=True)
class Marked:
    """One answer marked. ``whys`` holds the reasons: of what was wrong, or why it was right; ``key`` a right answer."""

    right: bool
    whys: tuple[Text, ...]
    key: Answer
    blank: bool = False


@dataclass(frozen=True, slots=True)
class ItemResult:
    """One item of a form with what became of it, in the order shown."""

    item: Item
    drawn: DrawnItem
    answer: Answer | None
    marked: Marked
    critical: bool


@dataclass(frozen=True, slots=True)
class QuizResult:
    """A whole form marked. Passed is ``points >= cut`` and no critical objective missed."""

    points: int
    cut: int
    critical_missed: tuple[str, ...]
    passed: bool
    items: tuple[ItemResult, ...]

    @property
    def missed(self) -> tuple[ItemResult, ...]:
        """The items that were not right, critical ones first, else in the order shown."""
        return tuple(sorted((each for each in self.items if not each.marked.right), key=lambda each: not each.critical))


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A drawn case in which ``function``, a common mistake, would pass as right, or in which it gives no number."""

    parameters: Mapping[str, str]
    function: str


def number(text: str) -> Fraction:
    """The number typed, exactly; a decimal comma is understood. Raises ``BadInput("not-a-number")``, never guesses."""
    typed = text.strip().replace("−", "-")
    if len(typed) > _LONGEST_NUMBER or not _NUMBER.fullmatch(typed):
        raise BadInput("not-a-number", value=text[:_LONGEST_NUMBER])
    return Fraction(typed.replace(",", ".").rstrip("."))


def measured(task: WorkOut, typed: str) -> Fraction:
    """The number typed in the task's own unit; with the US unit behind it, as ``66 lb``, it is converted exactly.

    Raises ``BadInput("not-a-number")``.
    """
    pair, bare = pair_of(task.unit), typed.strip()
    if pair is not None and bare.endswith(pair.us):
        return number(bare.removesuffix(pair.us)) * pair.size
    return number(bare.removesuffix(task.unit) or bare)


def readable(task: Task, answer: Answer) -> Answer:
    """``answer`` in the one form that drafts and records hold.

    Raises ``BadInput``: ``not-a-number`` for text that is no number, ``not-offered`` for a choice that is not there,
    ``not-all-ordered`` for an order that leaves a step out, ``too-many-here`` for a spot with more than fit there,
    ``not-all-ticked`` for a sheet with a row left open.
    """
    match task, answer:
        case ((ChooseOne() | JudgeDrawing() | ReadSheet()), str()) if answer in option_ids(task):
            return answer
        case ((ChooseAll() | PointAt()), tuple()) if set(answer) <= set(option_ids(task)):
            return tuple(sorted(set(answer)))
        case PutInOrder(), tuple() if set(answer) <= set(option_ids(task)):
            if sorted(answer) != sorted(option_ids(task)):
                raise BadInput("not-all-ordered")
            return answer
        case PlaceCrew(), Mapping():
            return _readable_placing(task, answer)
        case TickSteps(), Mapping():
            return _readable_ticks(task, answer)
        case WorkOut(), str():
            measured(task, answer)
            return answer.strip()
        case _:
            raise BadInput("not-offered")


def _readable_placing(task: PlaceCrew, placed: Mapping[str, tuple[str, ...]]) -> Answer:
    tokens = [each for there in placed.values() for each in there]
    known = {token.id for token in task.tokens}
    if not set(placed) <= set(task.spots) or not set(tokens) <= known or len(tokens) != len(set(tokens)):
        raise BadInput("not-offered")
    if any(len(there) > task.at_most for there in placed.values()):
        raise BadInput("too-many-here", most=task.at_most)
    return {spot: tuple(sorted(placed[spot])) for spot in task.spots if placed.get(spot)}


def _readable_ticks(task: TickSteps, ticked: Mapping[str, tuple[str, ...]]) -> Answer:
    if not set(ticked) <= set(option_ids(task)) or any(
        len(each) != 1 or each[0] not in STATES for each in ticked.values()
    ):
        raise BadInput("not-offered")
    if len(ticked) < len(task.rows):
        raise BadInput("not-all-ticked")
    return {row.id: ticked[row.id] for row in task.rows}


def mark(item: Item, answer: Answer | None, parameters: Mapping[str, str], functions: Functions) -> Marked:
    """``answer`` to ``item`` marked, the item's own reason added; ``None`` is a blank and never right."""
    marked = mark_task(item.task, answer, parameters, functions)
    if item.why is None or item.why in marked.whys:
        return marked
    return Marked(marked.right, (*marked.whys, item.why), marked.key, marked.blank)


def mark_task(task: Task, answer: Answer | None, parameters: Mapping[str, str], functions: Functions) -> Marked:
    """``answer`` to ``task`` marked with its reasons. Raises ``BadInput`` as ``readable`` does."""
    asked = as_drawn(task, parameters)
    key = right_answer(asked, parameters, functions)
    if answer is None:
        return Marked(False, _whys_of_right(asked), key, blank=True)
    given = readable(asked, answer)
    is_right = _is_right(asked, given, parameters, functions)
    return Marked(is_right, tuple(_whys(asked, given, is_right, parameters, functions)), key)


def right_answer(task: Task, parameters: Mapping[str, str], functions: Functions) -> Answer:
    """A right answer in the form that records hold; the first layout for a crew, a number to enough decimals."""
    match as_drawn(task, parameters):
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            return next(option.id for option in options if option.right)
        case ChooseAll(options=options):
            return tuple(sorted(option.id for option in options if option.right))
        case PutInOrder(steps=steps):
            return tuple(step.id for step in steps)
        case PointAt(spots=spots):
            return tuple(sorted(spot.part for spot in spots if spot.right))
        case PlaceCrew() as crew:
            return _first_layout(crew)
        case TickSteps(rows=rows):
            return {row.id: (row.state,) for row in rows}
        case WorkOut() as sum_:
            return decimal_text(_short(sum_, worked_key(sum_, sum_.function, parameters, functions)))


def _first_layout(task: PlaceCrew) -> dict[str, tuple[str, ...]]:
    """The first layout in tokens instead of persons."""
    waiting = {person: [t.id for t in task.tokens if t.person == person] for person in {t.person for t in task.tokens}}
    layout = task.layouts[0]
    return {spot: tuple(sorted(waiting[who].pop(0) for who in layout[spot])) for spot in task.spots if layout.get(spot)}


def worked_key(task: WorkOut, function: str, parameters: Mapping[str, str], functions: Functions) -> Fraction:
    """What ``function`` gives for the drawn parameters, to 12 digits: a float's last digits are noise, not a key.

    Raises ``ValueError`` when that is not a finite number.
    """
    value = functions[function](**{name: float(parameters[name]) for name in task.parameters})
    if not isfinite(value):
        raise ValueError(f"{function} gives no finite number")
    return Fraction(format(value, _KEY_DIGITS))


def _short(task: WorkOut, key: Fraction) -> Fraction:
    """``key`` with no more decimals than a tenth of the tolerance asks for: as a person would write it."""
    allowed = max(Fraction(task.absolute), Fraction(task.relative) * abs(key)) / 10
    shorter = (Fraction(round(key, places)) for places in range(12))
    return next((each for each in shorter if abs(each - key) <= allowed), key)


def _is_near(task: WorkOut, value: Fraction, key: Fraction) -> bool:
    return abs(value - key) <= max(Fraction(task.absolute), Fraction(task.relative) * abs(key))


def _is_right(task: DrawnTask, given: Answer, parameters: Mapping[str, str], functions: Functions) -> bool:
    if isinstance(task, PlaceCrew) and isinstance(given, Mapping):
        return places(task, given) in right_places(task)
    if isinstance(task, WorkOut) and isinstance(given, str):
        return _is_near(task, measured(task, given), worked_key(task, task.function, parameters, functions))
    return given == right_answer(task, parameters, functions)


def _whys_of_right(task: DrawnTask) -> tuple[Text, ...]:
    match task:
        case ChooseOne(options=options) | JudgeDrawing(options=options) | ChooseAll(options=options):
            return tuple(option.why for option in options if option.right)
        case PutInOrder(steps=steps):
            return tuple(step.why for step in steps)
        case PointAt(spots=spots):
            return tuple(spot.why for spot in spots if spot.right)
        case PlaceCrew(why=why) | WorkOut(why=why):
            return (why,)
        case TickSteps(rows=rows):
            return tuple(row.why for row in rows)


def _whys(
    task: DrawnTask, given: Answer, is_right: bool, parameters: Mapping[str, str], functions: Functions
) -> Iterable[Text]:
    """The reasons to show: for a wrong answer, of each thing chosen or left out wrongly."""
    match task:
        case _ if is_right:
            yield from _whys_of_right(task)
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            yield from (option.why for option in options if option.id == given)
        case ChooseAll(options=options):
            yield from (option.why for option in options if (option.id in given) != option.right)
        case PointAt(spots=spots):
            yield from (spot.why for spot in spots if (spot.part in given) != spot.right)
        case PutInOrder(steps=steps):
            yield from (step.why for step, each in zip(steps, given, strict=True) if step.id != each)
        case TickSteps(rows=rows) if isinstance(given, Mapping):
            yield from (row.why for row in rows if given[row.id] != (row.state,))
        case PlaceCrew():
            yield from (why for spot, why in task.whys.items() if spot in given)
            yield task.why
        case WorkOut():
            yield from _mistakes_made(task, measured(task, str(given)), parameters, functions)
            yield task.why


def _mistakes_made(
    task: WorkOut, value: Fraction, parameters: Mapping[str, str], functions: Functions
) -> Iterator[Text]:
    for name, why in task.mistakes.items():
        if _is_near(task, value, worked_key(task, name, parameters, functions)):
            yield why


def uncertain(task: WorkOut, functions: Functions) -> Iterator[Uncertain]:
    """Each drawn case that cannot be marked fairly, over the whole grid of parameters.

    That is a common mistake within the tolerance of the key, or a function that gives no number there.
    """
    for values in product(*(grid(each) for each in task.parameters.values())):
        parameters = dict(zip(task.parameters, values, strict=True))
        for name in (task.function, *task.mistakes):
            if _is_uncertain(task, name, parameters, functions):
                yield Uncertain(parameters, name)


def _is_uncertain(task: WorkOut, name: str, parameters: Mapping[str, str], functions: Functions) -> bool:
    try:
        value = worked_key(task, name, parameters, functions)
        key = worked_key(task, task.function, parameters, functions)
    except (ValueError, ArithmeticError, TrainerError):
        return True
    return name != task.function and _is_near(task, value, key)


def unlike_in_us(task: WorkOut, pairs: Mapping[str, Pair], functions: Functions) -> Iterator[Uncertain]:
    """Each drawn case in which whoever works with the US figures shown, rounded as they are, would be marked wrong.

    ``pairs`` are the parameters that the question also tells in a US unit.
    """
    for values in product(*(grid(each) for each in task.parameters.values())):
        parameters = dict(zip(task.parameters, values, strict=True))
        read = {name: beside(parameters[name], pair) for name, pair in pairs.items()}
        meant = {name: str(float(Fraction(read[name]) * pairs[name].size)) for name in read}
        key = worked_key(task, task.function, parameters, functions)
        if not _is_near(task, worked_key(task, task.function, {**parameters, **meant}, functions), key):
            yield Uncertain({**parameters, **{f"{name} {pairs[name].us}": each for name, each in read.items()}}, "US")


def critical_objectives(bank: Bank) -> frozenset[str]:
    """The ids of the objectives that must be right for a pass."""
    return frozenset(each.id for each in bank.objectives if each.critical)


def result(bank: Bank, form: Form, answers: Mapping[str, Answer], functions: Functions) -> QuizResult:
    """The whole form marked; ``answers`` by item id, what is missing is blank and wrong.

    Raises ``BadInput("quiz-changed")`` when the bank no longer holds an item in the version drawn.
    """
    critical = critical_objectives(bank)
    items = tuple(_item_result(bank, drawn, answers.get(drawn.item_id), critical, functions) for drawn in form.items)
    missed = tuple(sorted({each.item.objective for each in items if each.critical and not each.marked.right}))
    points = sum(each.marked.right for each in items)
    return QuizResult(points, bank.blueprint.cut, missed, points >= bank.blueprint.cut and not missed, items)


def _item_result(
    bank: Bank, drawn: DrawnItem, answer: Answer | None, critical: frozenset[str], functions: Functions
) -> ItemResult:
    item = bank.item(drawn.item_id)
    if item is None or item.version != drawn.version:
        raise BadInput("quiz-changed", quiz=bank.id)
    return ItemResult(item, drawn, answer, mark(item, answer, drawn.parameters, functions), item.objective in critical)
