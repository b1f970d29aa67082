"""Rules on banks: what they refer to, and whether a whole form can be drawn from them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from difflib import get_close_matches

from trainer.core.banks import Bank
from trainer.core.forms import draw, is_ordinary
from trainer.core.lessons import Lesson
from trainer.core.tailgate import is_one_tap
from trainer.curriculum.hints import plain_id
from trainer.curriculum.loaded import Loaded, bank_file
from trainer.curriculum.nodes import Path
from trainer.errors import BadInput, Problem

__all__ = ["blueprints", "drawable", "references", "single_items", "tailgates"]

MOST_CRITICAL = 4
LEAST_VARIANTS = 3
TAILGATE_QUESTIONS = 3
_DRAWS = 20

Found = Iterator[tuple[Path, str, str]]


def references(loaded: Loaded) -> list[Problem]:
    """Competencies, lessons, scenes, objectives and items that a bank names and that are not there."""
    return [
        loaded.problem(bank_file(bank.id), path, what, todo)
        for bank in loaded.banks.values()
        for path, what, todo in (*_bank_references(loaded, bank), *_item_references(loaded, bank))
    ]


def _bank_references(loaded: Loaded, bank: Bank) -> Found:
    if not loaded.knows_competency(bank.competency):
        yield ("competency",), f'there is no competency "{bank.competency}"', "write one from content/competencies.yaml"
    if not bank.lesson:
        yield (), '"lesson" is missing', "add the lesson that teaches this"


def _item_references(loaded: Loaded, bank: Bank) -> Found:
    lesson = loaded.lessons.get(bank.lesson)
    for item in bank.items:
        if bank.objective(item.objective) is None:
            yield (
                ("items", item.id, "objective"),
                f'there is no objective "{item.objective}"',
                "write one from this file",
            )
        if lesson is not None and not _knows_scene(lesson, item.scene):
            near = get_close_matches(item.scene, [each.id for each in lesson.scenes], n=1, cutoff=0.6)
            todo = f'did you mean "{near[0]}"?' if near else "write one of its scenes"
            yield ("items", item.id, "scene"), f'{lesson.id} has no scene "{item.scene}"', todo
        for enemy in item.enemies:
            if bank.item(enemy) is None or enemy == item.id:
                yield ("items", item.id, "enemies"), f'there is no other item "{enemy}"', "write one or take it out"


def _knows_scene(lesson: Lesson, name: str) -> bool:
    """Whether there is such a scene, or will be once the lesson's own ids are mended."""
    ids = [each.id for each in lesson.scenes]
    return name in (*ids, *map(plain_id, ids)) or len(set(ids)) < len(ids)


def blueprints(loaded: Loaded) -> list[Problem]:
    """Blueprints that do not add up, and objectives with too few items behind them."""
    return [
        loaded.problem(bank_file(bank.id), path, what, todo)
        for bank in loaded.banks.values()
        for path, what, todo in (*_sums(bank), *_topics(bank), *_variants(bank))
    ]


def _sums(bank: Bank) -> Found:
    plan, critical = bank.blueprint, sum(each.critical for each in bank.objectives)
    given = sum(plan.topics.values()) + critical
    if plan.items != given:
        yield (
            ("blueprint", "items"),
            f"{plan.items} items, but topics and critical objectives give {given}",
            f"write {given}, or change the topics",
        )
    if plan.cut > plan.items:
        yield ("blueprint", "cut"), f"a cut of {plan.cut} is more than {plan.items} items", "lower it"
    if critical > MOST_CRITICAL:
        yield (
            ("objectives",),
            f"{critical} critical objectives",
            f"keep to the true must-knows, at most {MOST_CRITICAL}",
        )


def _topics(bank: Bank) -> Found:
    named = {each.topic for each in bank.objectives if not each.critical}
    for topic in bank.blueprint.topics:
        if topic not in named:
            yield ("blueprint", "topics", topic), "no objective has this topic", "add one or take the topic out"
    for each in bank.objectives:
        if not each.critical and each.topic not in bank.blueprint.topics:
            yield ("objectives", each.id, "topic"), f'"{each.topic}" is not in the blueprint', "add it to topics"


def _variants(bank: Bank) -> Found:
    counts = Counter(item.objective for item in bank.items)
    for each in bank.objectives:
        least = LEAST_VARIANTS if each.critical else 1
        if counts[each.id] < least:
            yield ("objectives", each.id), f"{counts[each.id]} items test this", f"write at least {least}"


def single_items(loaded: Loaded) -> list[Problem]:
    """Objectives with one item, so that a second try asks the same again."""
    return [
        loaded.problem(
            bank_file(bank.id),
            ("objectives", each.id),
            "only one item tests this",
            "write a second one: another situation, another answer",
        )
        for bank in loaded.banks.values()
        for each in bank.objectives
        if not each.critical and sum(item.objective == each.id for item in bank.items) == 1
    ]


def drawable(loaded: Loaded) -> list[Problem]:
    """Banks from which some form cannot be drawn in full: topics with too few questions, or too many enemies."""
    return [
        loaded.problem(bank_file(bank.id), path, what, todo)
        for bank in loaded.banks.values()
        if _is_sound(bank)
        for path, what, todo in _too_few(bank) or _enemies(bank)
    ]


def _is_sound(bank: Bank) -> bool:
    """Whether each question is one of its own and tests an objective; else that is told, and a short form follows."""
    is_known = all(bank.objective(item.objective) is not None for item in bank.items)
    return is_known and len({item.id for item in bank.items}) == len(bank.items)


def _too_few(bank: Bank) -> list[tuple[Path, str, str]]:
    """Each topic that a form takes more questions from than there are; one that no objective has is told elsewhere."""
    named = {each.topic for each in bank.objectives if not each.critical}
    counts = {topic: len({i.id for i in bank.items if is_ordinary(bank, i, topic)}) for topic in named}
    return [
        (
            ("blueprint", "topics", topic),
            f'topic "{topic}" has {counts[topic]} question{"" if counts[topic] == 1 else "s"}, a form takes {quota}',
            f"write {quota - counts[topic]} more",
        )
        for topic, quota in bank.blueprint.topics.items()
        if topic in named and counts[topic] < quota
    ]


def _enemies(bank: Bank) -> list[tuple[Path, str, str]]:
    """The first topic that comes up short though it has enough questions, because some never stand in one form."""
    for seed in range(_DRAWS):
        try:
            draw(bank, str(seed), {}, {})
        except BadInput as error:
            topic = error.values.get("topic", "")
            if any(each.topic == topic for each in bank.objectives):
                what = f'topic "{topic}" comes up short in some forms: too many of its questions are enemies'
                return [(("items",), what, "name fewer enemies, or write another question there")]
    return []


def tailgates(loaded: Loaded) -> list[Problem]:
    """Banks that a tailgate is to extend and that lack the questions for one; questions that no tailgate can ask."""
    extended = {
        each.needs.knowledge.quiz
        for each in loaded.competencies
        if each.needs.knowledge is not None and each.needs.knowledge.tailgate_extends is not None
    }
    unfit = [
        loaded.problem(
            bank_file(bank.id),
            ("items", item.id, "tailgate"),
            "a tailgate asks what is told in a sentence and answered by one tap",
            "leave tailgate out, or make it choose-one or judge-drawing without a situation",
        )
        for bank in loaded.banks.values()
        for item in bank.items
        if item.tailgate and not is_one_tap(item)
    ]
    return unfit + [
        loaded.problem(
            bank_file(bank.id),
            ("items",),
            f"{sum(is_one_tap(item) for item in bank.items)} items may be used in a tailgate",
            f"mark at least {TAILGATE_QUESTIONS} with tailgate: true",
        )
        for bank in loaded.banks.values()
        if bank.id in extended and sum(is_one_tap(item) for item in bank.items) < TAILGATE_QUESTIONS
    ]
