"""What goes to a browser holds the question and nothing of its key."""

from __future__ import annotations

import json
from dataclasses import asdict, replace

import pytest

from tests.unit.assessment import samples
from trainer.core.forms import DrawnItem, drawn_order, option_ids
from trainer.core.marking import right_answer
from trainer.core.shown import KINDS, show, show_task, to_answer, to_handles
from trainer.core.tasks import PlaceCrew, Task, WorkOut
from trainer.core.workings import FUNCTIONS
from trainer.errors import BadInput

DRAWN = {"indicator": "110", "block": "20", "top": "0.9", "middle": "0.35", "bottom": "0.04", "grain": "7"}

BARE: dict[str, str] = {"en": "-"}


def wordless(task: Task) -> Task:
    """``task`` with every option's words blanked, so that only ids, whys and flags could still tell."""
    for name in ("options", "steps", "rows"):
        if hasattr(task, name):
            chosen = tuple(replace(each, text=BARE if each.text else None) for each in getattr(task, name))
            return replace(task, **{name: chosen})  # type: ignore[arg-type]
    return task


@pytest.mark.parametrize("task", samples.ALL_TASKS)
def test_no_key_reason_or_telling_id_is_sent(task: Task) -> None:
    order = drawn_order(task, "seed", "item")
    sent = json.dumps(asdict(show_task(wordless(task), order, "en")))
    secrets = (
        "good",
        "bad-",
        "why",
        "then",
        '"right"',
        '"wrong"',
        "layout",
        "load-on-slips",
        "mistake",
        "first",
        "0.5",
        "top-only",
        "imprint",
        "not observed",
        "after prompt",
    )
    assert [secret for secret in secrets if secret in sent] == []


@pytest.mark.parametrize("task", samples.ALL_TASKS)
def test_answers_come_back_from_handles_as_they_went(task: Task) -> None:
    order = drawn_order(task, "seed", "item")
    key = right_answer(task, DRAWN, FUNCTIONS)
    handles = to_handles(task, order, key)
    assert to_answer(task, order, handles) == key
    if not isinstance(task, WorkOut):
        assert handles != key


@pytest.mark.parametrize("task", samples.ALL_TASKS)
def test_every_kind_has_its_name_and_every_choice_its_handle(task: Task) -> None:
    shown = show_task(task, drawn_order(task, "seed", "item"), "es")
    assert shown.kind in {name for _, name in KINDS}
    assert [each.handle for each in shown.choices] == [f"o{n + 1}" for n in range(len(option_ids(task)))]
    assert len(shown.tokens) == (4 if isinstance(task, PlaceCrew) else 0)


def test_a_mark_to_look_at_something_stays_and_marks_of_the_key_go() -> None:
    shown = show_task(samples.place_crew(), ("handle-1", "handle-2", "handle-3", "gap"), "en")
    assert shown.picture is not None
    assert shown.picture.marks == {"bushing-edge": "look"}


def test_steps_on_a_picture_go_out_with_their_place_in_the_drawn_order() -> None:
    shown = show_task(samples.order_on_picture(), ("third", "second", "fourth", "first"), "en")
    assert shown.picture == replace(samples.CREW_PICTURE, marks={"bushing-edge": "look"})
    assert [each.part for each in shown.choices] == ["handle-1", "gap", "handle-2", "handle-1"]


def test_drawn_numbers_stand_in_the_question() -> None:
    item = replace(
        samples.item("x", "o", samples.work_out()), text={"en": "{indicator} t on the dial, block {block} t"}
    )
    assert show(item, DrawnItem("x", 1, (), DRAWN), "en").text == "110 t on the dial, block 20 t"


@pytest.mark.parametrize("handle", ["o9", "good", "t1", ""])
def test_a_handle_that_was_not_shown_is_refused(handle: str) -> None:
    task = samples.choose_one()
    with pytest.raises(BadInput) as caught:
        to_answer(task, drawn_order(task, "seed", "item"), handle)
    assert caught.value.code == "not-offered"
