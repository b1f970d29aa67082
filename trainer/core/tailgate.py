"""A tailgate: ten minutes on one topic, three points, three questions, and what came of it for each person present.

Everything is drawn by hash from the tailgate's own id, so that the talk and its questions can be had again years later.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from trainer.core.banks import Bank, Item
from trainer.core.catalogue import Catalogue
from trainer.core.forms import DrawnItem, drawn_order, unit_hash
from trainer.core.lessons import Lesson, Scene, TalkPoint
from trainer.core.tasks import ChooseOne, JudgeDrawing, PlaceCrew, PointAt
from trainer.errors import BadInput

__all__ = [
    "HOW_PRESENT",
    "LATE",
    "LED",
    "LEFT",
    "POINTS",
    "QUESTIONS",
    "THROUGHOUT",
    "bank_of",
    "draw_questions",
    "drawn_for",
    "has_passed",
    "is_one_tap",
    "lesson_of",
    "points",
    "questions",
    "topics",
]

QUESTIONS = 3
"""Questions a tailgate; all of them right, and there throughout, is a pass."""

POINTS = 3
"""Points a talk."""

THROUGHOUT = "throughout"
LATE = "late"
LEFT = "left"
LED = "led"
HOW_PRESENT = (THROUGHOUT, LATE, LEFT)
"""How somebody was there. ``LED`` is whoever held the talk and vouches: nobody vouches for his own answers."""


def is_one_tap(item: Item) -> bool:
    """Whether ``item`` may be asked in a tailgate: marked for it, one sentence long, and answered by one tap."""
    return item.tailgate and item.situation is None and isinstance(item.task, ChooseOne | JudgeDrawing)


def topics(catalogue: Catalogue) -> tuple[str, ...]:
    """The competencies that can be talked about, in catalogue order: a bank with questions enough, and a lesson."""
    return tuple(each.id for each in catalogue.competencies if _has_all(catalogue, bank_of(catalogue, each.id)))


def _has_all(catalogue: Catalogue, bank: Bank | None) -> bool:
    if bank is None or lesson_of(catalogue, bank) is None:
        return False
    return _completed((), [item for item in bank.items if is_one_tap(item)]) is not None


def bank_of(catalogue: Catalogue, competency: str) -> Bank | None:
    """The bank of that competency: the one its quiz is drawn from, else the first that names it."""
    known = catalogue.competency(competency)
    needs = known.needs.knowledge if known else None
    if needs is not None and needs.quiz in catalogue.banks:
        return catalogue.banks[needs.quiz]
    return next((each for each in catalogue.banks.values() if each.competency == competency), None)


def lesson_of(catalogue: Catalogue, bank: Bank) -> Lesson | None:
    """The lesson that the bank names, else the first one on its competency."""
    if bank.lesson in catalogue.lessons:
        return catalogue.lessons[bank.lesson]
    return next((each for each in catalogue.lessons.values() if each.competency == bank.competency), None)


def draw_questions(bank: Bank, seed: str, asked: Mapping[str, int]) -> tuple[Item, ...]:
    """The three questions of the tailgate ``seed``, in the order asked, the same three for everybody.

    ``asked`` counts how often this crew had an item in a tailgate. Objectives that the three have least of come first,
    then the items least asked, then by the hash; enemies never meet. Raises ``BadInput("form-shortfall")``.
    """
    pool = [item for item in bank.items if is_one_tap(item)]
    order = {item.id: (asked.get(item.id, 0), unit_hash(seed, item.id), item.id) for item in pool}
    found = _completed((), sorted(pool, key=lambda item: order[item.id]))
    if found is None:
        raise BadInput("form-shortfall", topic=bank.id)
    return found


def _completed(chosen: tuple[Item, ...], pool: Sequence[Item]) -> tuple[Item, ...] | None:
    """``chosen`` filled up from ``pool``, its first ones first; ``None`` when enemies leave too few."""
    if len(chosen) == QUESTIONS:
        return chosen
    taken = Counter(item.objective for item in chosen)
    free = [item for item in pool if not any(_clash(item, other) for other in chosen)]
    for item in sorted(free, key=lambda item: taken[item.objective]):
        found = _completed((*chosen, item), free)
        if found is not None:
            return found
    return None


def _clash(one: Item, other: Item) -> bool:
    return one.id == other.id or other.id in one.enemies or one.id in other.enemies


def drawn_for(item: Item, seed: str, hand: str) -> DrawnItem:
    """``item`` as ``hand`` sees it in the tailgate ``seed``: the options in an order of his own."""
    return DrawnItem(item.id, item.version, drawn_order(item.task, f"{seed}|{hand}", item.id))


def has_passed(how: str, right: int) -> bool:
    """Whether somebody who was there like this, with so many answers right, has passed; else it is attendance."""
    return how == THROUGHOUT and right == QUESTIONS


def points(lesson: Lesson, bank: Bank, seed: str) -> tuple[TalkPoint, ...]:
    """The three points of the talk, with pictures: those that the lesson writes, else what its decisions come to.

    Of its decisions first those that teach the must-knows (where there are more than three, by the hash, so that the
    next talk brings others), in the order of the lesson.
    """
    if lesson.talk:
        return lesson.talk
    must = _must_scenes(bank)
    told = {scene.id: point for scene in lesson.scenes if (point := _point(scene)) is not None}
    picked = sorted(told, key=lambda scene: (scene not in must, unit_hash(seed, scene)))[:POINTS]
    return tuple(point for scene, point in told.items() if scene in picked)


def _must_scenes(bank: Bank) -> frozenset[str]:
    """For each critical objective the scene that most of its items name."""
    return frozenset(
        Counter(item.scene for item in bank.items if item.objective == each.id).most_common(1)[0][0]
        for each in bank.objectives
        if each.critical and any(item.objective == each.id for item in bank.items)
    )


def _point(scene: Scene) -> TalkPoint | None:
    """What a decision of the lesson comes to; ``None`` for a scene that decides nothing or says it in no one line."""
    if scene.part != "decide" or scene.task is None:
        return None
    match scene.task:
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            right = next(option for option in options if option.right)
            return TalkPoint(scene.title, scene.right or right.why, right.picture or scene.picture)
        case PointAt(picture=picture, spots=spots) if scene.right is not None:
            marks = {spot.part: "look" for spot in spots if spot.right}
            return TalkPoint(scene.title, scene.right, replace(picture, marks=marks))
        case PlaceCrew(why=why, picture=picture):
            return TalkPoint(scene.title, scene.right or why, picture)
    return TalkPoint(scene.title, scene.right, scene.picture) if scene.right else None


def questions(bank: Bank, drawn: Iterable[str]) -> tuple[Item, ...] | None:
    """The items drawn earlier, as ``id:version``; ``None`` when the bank no longer holds one of them as it was."""
    found = []
    for each in drawn:
        name, _, version = each.rpartition(":")
        item = bank.item(name)
        if item is None or str(item.version) != version:
            return None
        found.append(item)
    return tuple(found)
