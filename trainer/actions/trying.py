"""Whoever writes content plays it: any scene, any item, its key and reasons. No form is drawn, nothing kept or written.

The content is the caller's own, which may be newer than that on which records count; so nothing here asks the store.
"""

from __future__ import annotations

from dataclasses import dataclass

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.learning import Playing
from trainer.core.banks import Bank, Item
from trainer.core.forms import DrawnItem, drawn_order, drawn_parameters
from trainer.core.lessons import Lesson
from trainer.core.marking import Marked, mark_task, readable
from trainer.core.playing import ONWARD, Play, Try, shown_step
from trainer.core.shown import Shown, show, to_answer
from trainer.core.tasks import Answer
from trainer.core.text import Text
from trainer.core.workings import FUNCTIONS
from trainer.errors import NotFound

__all__ = ["Asked", "Subject", "ask", "choose", "mark", "stand", "subjects"]


@dataclass(frozen=True, slots=True)
class Subject:
    """What there is to play on one competency, as its content names it; ``title`` is ``None`` for one not listed."""

    competency: str
    title: Text | None
    lessons: tuple[Lesson, ...]
    banks: tuple[Bank, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """One item of ``bank`` as ``drawn`` for this try: ``shown`` is what a hand sees, without its key."""

    bank: Bank
    item: Item
    drawn: DrawnItem
    shown: Shown


def subjects(desk: Desk) -> tuple[Subject, ...]:
    """Everything that can be played, by competency in the catalogue's order, then what belongs to none of it."""
    may.require(desk, "trying.subjects")
    there = desk.catalogue
    titles: dict[str, Text | None] = {each.id: each.title for each in there.competencies}
    of_lessons = [each.competency for each in there.lessons.values()]
    of_banks = [each.competency for each in there.banks.values()]
    named = dict.fromkeys([*titles, *of_lessons, *of_banks])
    made = (
        Subject(
            name,
            titles.get(name),
            tuple(each for each in there.lessons.values() if each.competency == name),
            tuple(each for each in there.banks.values() if each.competency == name),
        )
        for name in named
    )
    return tuple(each for each in made if each.lessons or each.banks)


def stand(desk: Desk, lesson: Lesson, scene: str, seed: str, answer: Answer | None = None) -> Playing:
    """The lesson with a player who stands in ``scene`` and, with an ``answer`` in ids, has just given it there.

    No way leads there: every scene can be looked at by itself. ``seed`` orders the options and draws the figures.
    Raises ``NotFound("no-scene")``, and ``BadInput`` for an answer that the scene, rewritten meanwhile, does not offer.
    """
    may.require(desk, "trying.stand")
    there = lesson.scene(scene)
    if there is None:
        raise NotFound("no-scene", lesson=lesson.id, scene=scene)
    play = Play(lesson, seed, FUNCTIONS)
    if answer is None:
        return Playing(seed, play, (), there, None, 0)
    given = readable(there.task, answer) if there.task else ONWARD
    step = shown_step(play, there, given)
    return Playing(seed, play, (Try(scene, given),), lesson.scene(step.next) if step.next else None, step, 0)


def choose(desk: Desk, playing: Playing, answer: Answer) -> Answer:
    """``answer``, in handles, to the scene that the player stands in, in ids. Raises ``BadInput("not-offered")``."""
    may.require(desk, "trying.choose")
    scene = playing.scene
    if scene is None or scene.task is None:
        return ONWARD
    return to_answer(scene.task, playing.play.order(scene), answer)


def ask(desk: Desk, bank: Bank, item: str, seed: str) -> Asked:
    """The item as one try shows it; another ``seed`` is another order and other figures.

    Raises ``NotFound("no-item")``.
    """
    may.require(desk, "trying.ask")
    there = bank.item(item)
    if there is None:
        raise NotFound("no-item", quiz=bank.id, item=item)
    order, figures = drawn_order(there.task, seed, item), drawn_parameters(there.task, seed, item)
    drawn = DrawnItem(item, there.version, order, figures)
    return Asked(bank, there, drawn, show(there, drawn, desk.actor.language))


def mark(desk: Desk, asked: Asked, answer: Answer) -> tuple[Answer, Marked]:
    """``answer``, in handles, in ids and marked. Raises ``BadInput`` for one that the item does not offer."""
    may.require(desk, "trying.mark")
    task, drawn = asked.item.task, asked.drawn
    given = readable(task, to_answer(task, drawn.options, answer))
    return given, mark_task(task, given, drawn.parameters, FUNCTIONS)
