"""A made-up bank, lesson and sheet, each task kind among them."""

from __future__ import annotations

from collections.abc import Iterable

from trainer.core.banks import Bank, Blueprint, Item, Objective
from trainer.core.checklists import Checklist, Step
from trainer.core.lessons import Lesson, Scene
from trainer.core.records import StepSeen
from trainer.core.tasks import (
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    Option,
    Picture,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    SheetOption,
    Spot,
    Task,
    TickRow,
    TickSteps,
    Token,
    WorkOut,
)
from trainer.core.text import Text

CREW_PICTURE = Picture("slips-above", marks={"handle-1": "right", "gap": "wrong", "bushing-edge": "look"})


def text(words: str) -> Text:
    """``words`` in two languages."""
    return {"en": words, "es": f"{words} (es)"}


def options(right: Iterable[str], wrong: Iterable[str], *, told: bool = False) -> tuple[Option, ...]:
    """Options whose ids tell the key, so that a leak would show."""
    picture = Picture("slips-side", show=("caught",)) if told else None
    return tuple(
        Option(
            each, is_right, text(f"why {each}"), text(f"say {each}"), text(f"then {each}") if told else None, picture
        )
        for names, is_right in ((right, True), (wrong, False))
        for each in names
    )


def choose_one(wrong: int = 3, *, told: bool = False) -> ChooseOne:
    """One right option among ``wrong`` others."""
    return ChooseOne(options(["good"], [f"bad-{n}" for n in range(wrong)], told=told))


def choose_all() -> ChooseAll:
    """Two right of five."""
    return ChooseAll(options(["good-a", "good-b"], ["bad-a", "bad-b", "bad-c"]))


def put_in_order() -> PutInOrder:
    """Four steps."""
    return PutInOrder(options(["first", "second", "third", "fourth"], []))


def order_on_picture() -> PutInOrder:
    """The same steps, tapped on a picture; two of them at one place."""
    at = {"first": "handle-1", "second": "gap", "third": "handle-1", "fourth": "handle-2"}
    return PutInOrder(put_in_order().steps, CREW_PICTURE, at)


def point_at() -> PointAt:
    """Two places of five."""
    names = (("gap", True), ("edge", True), ("handle-1", False), ("handle-2", False), ("deck", False))
    spots = tuple(Spot(part, right, text(f"why {part}"), text(f"then {part}")) for part, right in names)
    return PointAt(CREW_PICTURE, spots)


def place_crew() -> PlaceCrew:
    """Two persons, two hands each, on three handles: an end each and the middle together."""
    tokens = tuple(Token(f"{who}-{side}", who, text(f"{who} {side}")) for who in "ab" for side in ("left", "right"))
    return PlaceCrew(
        picture=CREW_PICTURE,
        tokens=tokens,
        spots=("handle-1", "handle-2", "handle-3", "gap"),
        layouts=({"handle-1": ("a",), "handle-2": ("a", "b"), "handle-3": ("b",)},),
        whys={"gap": text("why gap")},
        why=text("why crew"),
    )


def judge_drawing() -> JudgeDrawing:
    """One right drawing of three."""
    drawn = tuple(
        Option(
            name,
            name == "good",
            text(f"why {name}"),
            text(f"say {name}"),
            picture=Picture(f"drawing-{n}", marks={"a": "right"}),
        )
        for n, name in enumerate(("good", "bad-a", "bad-b"))
    )
    return JudgeDrawing(drawn)


def work_out() -> WorkOut:
    """The load on the slips from indicator and block."""
    return WorkOut(
        function="load-on-slips",
        parameters={"indicator": ("100", "2.5", 9), "block": ("18", "0.5", 5)},
        unit="t",
        absolute="0.5",
        relative="0.01",
        mistakes={"indicator-alone": text("mistake block")},
        why=text("why load"),
    )


def read_sheet() -> ReadSheet:
    """One of three imprints, a few hundred sheets of each."""
    grids: dict[str, dict[str, tuple[str, str, int]]] = {
        "full": {"top": ("0.95", "0.01", 6), "middle": ("0.95", "0.01", 6), "bottom": ("0.95", "0.01", 6)},
        "top-only": {"top": ("0.85", "0.03", 5), "middle": ("0.25", "0.05", 5), "bottom": ("0", "0.04", 4)},
        "partial": {"top": ("0.5", "0.04", 5), "middle": ("0.5", "0.04", 5), "bottom": ("0.5", "0.04", 5)},
    }
    told = tuple(
        SheetOption(name, text(f"say {name}"), text(f"why {name}"), (grid,), text(f"then {name}"))
        for name, grid in grids.items()
    )
    return ReadSheet("paper-test", "imprint-verdict", told)


def tick_steps() -> TickSteps:
    """Four rows, two of them met."""
    states = {"first": "met", "second": "not observed", "third": "met after prompt", "fourth": "met"}
    return TickSteps(
        tuple(
            TickRow(name, text(f"say {name}"), state, text(f"why {name}"), name == "third", text(f"then {name}"))
            for name, state in states.items()
        )
    )


ALL_TASKS: tuple[Task, ...] = (
    choose_one(),
    choose_all(),
    put_in_order(),
    order_on_picture(),
    point_at(),
    place_crew(),
    judge_drawing(),
    work_out(),
    read_sheet(),
    tick_steps(),
)


def item(name: str, objective: str, task: Task, *, enemies: tuple[str, ...] = ()) -> Item:
    """An item with its own words."""
    return Item(name, objective, text(f"ask {name}"), task, scene="first", why=text(f"reason {name}"), enemies=enemies)


def bank(per_objective: int = 3, *, enemies: tuple[tuple[str, str], ...] = ()) -> Bank:
    """The default form's bank: 12 items, cut 10, three critical objectives; two objectives a topic beside them.

    ``enemies`` are pairs of item ids. Items are called ``objective-number``.
    """
    topics = {"where": 4, "timing": 3, "grip": 2}
    critical: dict[str, Task] = {"must-where": choose_all(), "must-timing": put_in_order(), "must-grip": work_out()}
    objectives = [Objective(name, name.removeprefix("must-"), text(name), critical=True) for name in critical]
    objectives += [Objective(f"{topic}-{n}", topic, text(topic)) for topic in topics for n in (1, 2)]
    items = [
        item(
            f"{each.id}-{n}", each.id, critical.get(each.id, choose_one()), enemies=_enemies(f"{each.id}-{n}", enemies)
        )
        for each in objectives
        for n in range(per_objective)
    ]
    return Bank("q", "hands", text("Hands"), Blueprint(topics), tuple(objectives), tuple(items), "lesson", "hash-1")


def _enemies(name: str, pairs: tuple[tuple[str, str], ...]) -> tuple[str, ...]:
    return tuple(other for one, other in pairs if one == name)


def lesson() -> Lesson:
    """Six scenes: a decision, a worked case, two ways to recall, a number, and the task for the floor."""
    return Lesson(
        id="lesson",
        competency="hands",
        title=text("Hands"),
        objective=text("Hands"),
        minutes=7,
        scenes=(
            Scene("first", text("t"), text("s"), ask=text("?"), task=choose_one(told=True), right=text("well done")),
            Scene("worked", text("t"), text("s"), part="worked"),
            Scene("point", text("t"), text("s"), part="recall", ask=text("?"), task=point_at()),
            Scene("order", text("t"), text("s"), part="recall", ask=text("?"), task=put_in_order(), next="floor"),
            Scene("skipped", text("t"), text("s"), part="worked"),
            Scene("floor", text("t"), text("s"), part="floor-task"),
        ),
        hash="lesson-hash",
    )


def checklist() -> Checklist:
    """Three competencies: calls (one critical step), hands (two critical, one not), lifting (one, not critical)."""
    return Checklist(
        id="connections",
        title=text("Connections"),
        steps=(
            Step("calls-given", "calls", text("calls"), critical=True),
            Step("hands-handles", "hands", text("handles"), critical=True),
            Step("hands-out", "hands", text("out"), critical=True),
            Step("hands-gloves", "hands", text("gloves")),
            Step("lift-back", "lifting", text("back")),
        ),
        hash="sheet-hash",
    )


def seen(states: dict[str, str], *, own_act: bool = True) -> tuple[StepSeen, ...]:
    """Steps in these states; a reason where one is needed."""
    return tuple(
        StepSeen(step, state, own_act, "because" if state == "not applicable" else None)
        for step, state in states.items()
    )
