"""Rules on banks: what they refer to, and whether a whole form can be drawn from them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from trainer.core.banks import Bank
from trainer.core.forms import draw
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
    """Competencies, lessons, scenes, objectives and items that a bank names and that are not there, or there twice."""
    return [
        loaded.problem(bank_file(bank.id), path, what, todo)
        for bank in loaded.banks.values()
        for path, what, todo in (*_bank_references(loaded, bank), *_ids_twice(bank), *_item_references(loaded, bank))
    ]


def _bank_references(loaded: Loaded, bank: Bank) -> Found:
    if not loaded.knows_competency(bank.competency):
        yield ("competency",), f'there is no competency "{bank.competency}"', "write one from content/competencies.yaml"
    if not bank.lesson:
        yield (), '"lesson" is missing', "add the lesson that teaches this"


def _ids_twice(bank: Bank) -> Found:
    for key, names in (("objectives", [o.id for o in bank.objectives]), ("items", [i.id for i in bank.items])):
        for name, count in Counter(names).items():
            if count > 1:
                yield (key, name, "id"), f'"{name}" stands here {count} times', "give each its own"


def _item_references(loaded: Loaded, bank: Bank) -> Found:
    lesson = loaded.lessons.get(bank.lesson)
    for item in bank.items:
        if bank.objective(item.objective) is None:
            yield (
                ("items", item.id, "objective"),
                f'there is no objective "{item.objective}"',
                "write one from this file",
            )
        if lesson is not None and lesson.scene(item.scene) is None:
            yield ("items", item.id, "scene"), f'{lesson.id} has no scene "{item.scene}"', "write one of its scenes"
        for enemy in item.enemies:
            if bank.item(enemy) is None or enemy == item.id:
                yield ("items", item.id, "enemies"), f'there is no other item "{enemy}"', "write one or take it out"


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
    """Objectives with one item, so that a second try asks the same again: warnings."""
    return [
        loaded.problem(
            bank_file(bank.id),
            ("objectives", each.id),
            "only one item tests this",
            "write a second one: another situation, another answer",
            warning=True,
        )
        for bank in loaded.banks.values()
        for each in bank.objectives
        if not each.critical and sum(item.objective == each.id for item in bank.items) == 1
    ]


def drawable(loaded: Loaded) -> list[Problem]:
    """Banks from which some form cannot be drawn in full: a topic with too few items, or too many enemies."""
    found = []
    for bank in loaded.banks.values():
        topic = _short_topic(bank)
        if topic is not None:
            what = f'a form comes up short in topic "{topic}"'
            found.append(loaded.problem(bank_file(bank.id), ("items",), what, "add items there, or name fewer enemies"))
    return found


def _short_topic(bank: Bank) -> str | None:
    for seed in range(_DRAWS):
        try:
            draw(bank, str(seed), {}, {})
        except BadInput as error:
            return str(error.values.get("topic", ""))
    return None


def tailgates(loaded: Loaded) -> list[Problem]:
    """Banks that a tailgate is to extend and that lack the questions for one."""
    extended = {
        each.needs.knowledge.quiz
        for each in loaded.competencies
        if each.needs.knowledge is not None and each.needs.knowledge.tailgate_extends is not None
    }
    return [
        loaded.problem(
            bank_file(bank.id),
            ("items",),
            f"{sum(item.tailgate for item in bank.items)} items may be used in a tailgate",
            f"mark at least {TAILGATE_QUESTIONS} with tailgate: true",
        )
        for bank in loaded.banks.values()
        if bank.id in extended and sum(item.tailgate for item in bank.items) < TAILGATE_QUESTIONS
    ]
