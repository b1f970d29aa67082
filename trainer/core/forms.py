"""Drawing a form from a bank, so that the same seed gives the same form again, years later, on any machine.

All order comes from one hash: ``u = int(first 8 bytes of SHA-256("seed|name")) / 2**64``. The bank's own order never
matters, and no random number generator with a state or a version is involved.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from hashlib import sha256
from math import floor

from trainer.core.banks import Bank, Item
from trainer.core.tasks import (
    GRAIN,
    ChooseAll,
    ChooseOne,
    Grid,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickSteps,
    WorkOut,
)
from trainer.errors import BadInput

__all__ = [
    "DrawnItem",
    "Form",
    "decimal_text",
    "draw",
    "drawn_order",
    "drawn_parameters",
    "grid",
    "is_ordinary",
    "option_ids",
    "unit_hash",
]


@dataclass(frozen=True, slots=True)
class DrawnItem:
    """One item of a form: which version, its options in the order shown, its drawn parameters as decimal strings."""

    item_id: str
    version: int
    options: tuple[str, ...] = ()
    parameters: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Form:
    """The items of one sitting, in the order shown."""

    seed: str
    items: tuple[DrawnItem, ...]


def unit_hash(seed: str, *names: str) -> Fraction:
    """A number from 0 up to, not including, 1 that depends on nothing but ``seed`` and ``names``."""
    first = sha256("|".join((seed, *names)).encode()).digest()[:8]
    return Fraction(int.from_bytes(first, "big"), 2**64)


def is_ordinary(bank: Bank, item: Item, topic: str) -> bool:
    """Whether ``item`` counts towards the quota of ``topic``: there, and not critical."""
    objective = bank.objective(item.objective)
    return objective is not None and objective.topic == topic and not objective.critical


def draw(bank: Bank, seed: str, seen: Mapping[str, int], exposure: Mapping[str, int]) -> Form:
    """A form by the bank's blueprint: one variant of each critical objective, then each topic to its quota.

    ``seen`` counts how often this hand had an item, ``exposure`` how often anybody had; what is missing counts 0.
    Within a topic, objectives that the form has least of come first, then the items least seen, least exposed, and by
    the hash. Enemies of an item already drawn are skipped. Raises ``BadInput("form-shortfall")`` naming the topic
    that has too few items; a form is never shorter than its blueprint.
    """
    rank = {item.id: (seen.get(item.id, 0), exposure.get(item.id, 0), unit_hash(seed, item.id)) for item in bank.items}
    chosen: list[Item] = []
    for objective in sorted((each for each in bank.objectives if each.critical), key=lambda each: each.id):
        variants = [item for item in bank.items if item.objective == objective.id]
        chosen.append(_first(variants, chosen, rank, objective.topic))
    for topic, quota in sorted(bank.blueprint.topics.items()):
        pool = [item for item in bank.items if is_ordinary(bank, item, topic)]
        for _ in range(quota):
            chosen.append(_first(pool, chosen, rank, topic))
    chosen.sort(key=lambda item: (unit_hash(seed, item.id), item.id))
    return Form(seed, tuple(_drawn(seed, item) for item in chosen))


def _first(pool: Iterable[Item], chosen: list[Item], rank: Mapping[str, tuple[int, int, Fraction]], topic: str) -> Item:
    """The item of ``pool`` to take next, beside those ``chosen``."""
    taken = Counter(item.objective for item in chosen)
    free = [item for item in pool if not any(_clash(item, other) for other in chosen)]
    if not free:
        raise BadInput("form-shortfall", topic=topic)
    return min(free, key=lambda item: (taken[item.objective], *rank[item.id], item.id))


def _clash(one: Item, other: Item) -> bool:
    """Whether both cannot stand in one form. Naming an enemy on one side is enough."""
    return one.id == other.id or other.id in one.enemies or one.id in other.enemies


def _drawn(seed: str, item: Item) -> DrawnItem:
    return DrawnItem(
        item.id, item.version, drawn_order(item.task, seed, item.id), drawn_parameters(item.task, seed, item.id)
    )


def option_ids(task: Task) -> tuple[str, ...]:
    """The ids of what can be chosen, ordered, pointed at, stood on or ticked; none for a number to work out."""
    match task:
        case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
            return tuple(option.id for option in options)
        case ReadSheet(options=told):
            return tuple(option.id for option in told)
        case PutInOrder(steps=steps):
            return tuple(step.id for step in steps)
        case PointAt(spots=spots):
            return tuple(spot.part for spot in spots)
        case PlaceCrew(spots=names):
            return names
        case TickSteps(rows=rows):
            return tuple(row.id for row in rows)
        case WorkOut():
            return ()


def drawn_order(task: Task, seed: str, name: str) -> tuple[str, ...]:
    """The option ids of ``task`` in the order in which ``seed`` shows them; ``name`` is the item's or scene's id.

    The rows of a sheet stand as the watch went.
    """
    if isinstance(task, TickSteps):
        return option_ids(task)
    return tuple(sorted(option_ids(task), key=lambda each: (unit_hash(seed, name, each), each)))


def drawn_parameters(task: Task, seed: str, name: str) -> dict[str, str]:
    """The figures of a number to work out or of a sheet to read, as exact decimal strings; none for other tasks."""
    match task:
        case WorkOut(parameters=parameters):
            return _drawn_figures(parameters, seed, name)
        case ReadSheet():
            return _drawn_sheet(task, seed, name)
        case _:
            return {}


def _drawn_figures(parameters: Mapping[str, Grid], seed: str, name: str) -> dict[str, str]:
    """Each figure by ``low + step * floor(u * count)``."""
    return {
        figure: decimal_text(Fraction(low) + Fraction(step) * floor(unit_hash(seed, name, figure) * count))
        for figure, (low, step, count) in parameters.items()
    }


def _drawn_sheet(task: ReadSheet, seed: str, name: str) -> dict[str, str]:
    """First which option is right, each as likely; then one of its sheets, its figures, and the grain."""
    options = sorted(task.options, key=lambda option: option.id)
    option = options[floor(unit_hash(seed, name, "option") * len(options))]
    sheet = option.sheets[floor(unit_hash(seed, name, "sheet") * len(option.sheets))]
    return _drawn_figures({**sheet, GRAIN: ("0", "1", 10_000)}, seed, name)


def grid(parameter: Grid) -> tuple[str, ...]:
    """Every value that a (low, step, count) parameter can take, as decimal strings, so that all can be checked."""
    low, step, count = parameter
    return tuple(decimal_text(Fraction(low) + Fraction(step) * place) for place in range(count))


def decimal_text(value: Fraction) -> str:
    """``value`` as the shortest exact decimal. Raises ``ValueError`` for one that has none, as 1/3."""
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
        if places > 30:
            raise ValueError("not a decimal number")
    digits = str(abs(int(value * 10**places))).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return sign + (f"{digits[:-places]}.{digits[-places:]}" if places else digits)
