"""A quiz being taken, as a draft holds it: the form as drawn, and the answers given so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from trainer.core.answers import from_json, to_json
from trainer.core.banks import Bank, Item
from trainer.core.forms import DrawnItem, Form, option_ids
from trainer.core.marking import QuizResult
from trainer.core.records import Json, QuizTaken
from trainer.core.shown import Shown, show, to_handles
from trainer.core.tasks import Answer
from trainer.errors import BadInput
from trainer.store import Draft

__all__ = ["KIND", "Sitting", "body_of", "fits", "form_of", "form_of_record", "record_body", "sitting_of"]

KIND = "quiz"


@dataclass(frozen=True, slots=True)
class Sitting:
    """A quiz being taken by ``hand``. ``draft_id`` is also the id of the record that its end writes.

    ``given`` maps a position (from 0) to its answer, in ids, and whether it is final.
    """

    draft_id: str
    hand: str
    bank: Bank
    form: Form
    given: Mapping[int, tuple[Answer, bool]]
    language: str
    opened: str
    touched: str
    content: str
    read_aloud_by: str | None = None

    @property
    def position(self) -> int | None:
        """The first position without a final answer; ``None`` when all are answered."""
        open_ones = (place for place in range(len(self.form.items)) if not self.is_final(place))
        return next(open_ones, None)

    @property
    def answered(self) -> int:
        """How many items have a final answer."""
        return sum(self.is_final(place) for place in range(len(self.form.items)))

    def is_final(self, position: int) -> bool:
        """Whether the answer there can no longer change."""
        return position in self.given and self.given[position][1]

    def item(self, position: int) -> tuple[Item, DrawnItem]:
        """The item at ``position`` and how it was drawn. Raises ``BadInput("no-such-position")``."""
        if not 0 <= position < len(self.form.items):
            raise BadInput("no-such-position", position=position)
        drawn = self.form.items[position]
        item = self.bank.item(drawn.item_id)
        if item is None:
            raise BadInput("quiz-changed", quiz=self.bank.id)
        return item, drawn

    def shown(self, position: int, language: str) -> Shown:
        """The question there: all that may be sent to a browser, and no key."""
        return show(*self.item(position), language)

    def kept(self, position: int) -> Answer | None:
        """The answer kept there so far, in handles, to show it again; ``None`` for none."""
        if position not in self.given:
            return None
        item, drawn = self.item(position)
        return to_handles(item.task, drawn.options, self.given[position][0])

    def finals(self) -> dict[str, Answer]:
        """The final answers by item id."""
        return {self.form.items[place].item_id: answer for place, (answer, is_final) in self.given.items() if is_final}


def body_of(form: Form, content: str, language: str) -> dict[str, Json]:
    """What a draft keeps of a form just drawn from the bank with the hash ``content``."""
    return {
        "seed": form.seed,
        "content": content,
        "language": language,
        "read_aloud_by": None,
        "items": [
            {
                "item": each.item_id,
                "version": each.version,
                "options": list(each.options),
                "parameters": dict(each.parameters),
            }
            for each in form.items
        ],
    }


def form_of(body: Mapping[str, Json]) -> Form:
    """The form that a draft keeps."""
    items = (_drawn(cast("dict[str, Json]", each)) for each in cast("list[Json]", body["items"]))
    return Form(cast("str", body["seed"]), tuple(items))


def _drawn(kept: Mapping[str, Json]) -> DrawnItem:
    return DrawnItem(
        cast("str", kept["item"]),
        cast("int", kept["version"]),
        tuple(cast("list[str]", kept["options"])),
        cast("dict[str, str]", kept["parameters"]),
    )


def form_of_record(body: QuizTaken) -> Form:
    """The form that a ``quiz`` record keeps."""
    drawn = []
    for each in body.items:
        name, _, version = each.rpartition(":")
        drawn.append(DrawnItem(name, int(version), body.options.get(name, ()), body.parameters.get(name, {})))
    return Form(body.seed, tuple(drawn))


def sitting_of(draft: Draft, bank: Bank, answers: Mapping[int, tuple[Json, bool]]) -> Sitting:
    """The sitting that ``draft`` and its ``answers`` hold."""
    given = {place: (from_json(answer), is_final) for place, (answer, is_final) in answers.items()}
    return Sitting(
        draft_id=draft.draft_id,
        hand=draft.owner,
        bank=bank,
        form=form_of(draft.body),
        given={place: (answer, is_final) for place, (answer, is_final) in given.items() if answer is not None},
        language=cast("str", draft.body["language"]),
        opened=draft.opened,
        touched=draft.touched,
        content=cast("str", draft.body["content"]),
        read_aloud_by=cast("str | None", draft.body["read_aloud_by"]),
    )


def fits(bank: Bank, form: Form) -> bool:
    """Whether ``bank`` still holds every item of ``form`` in the version drawn, with the same options."""
    return all(_is_there(bank.item(each.item_id), each) for each in form.items)


def _is_there(item: Item | None, drawn: DrawnItem) -> bool:
    return item is not None and item.version == drawn.version and sorted(option_ids(item.task)) == sorted(drawn.options)


def record_body(sitting: Sitting, result: QuizResult) -> QuizTaken:
    """The body of the ``quiz`` record of a finished sitting; a blank is ``None`` among its answers."""
    finals = sitting.finals()
    items = sitting.form.items
    return QuizTaken(
        quiz=sitting.bank.id,
        competency=sitting.bank.competency,
        seed=sitting.form.seed,
        items=tuple(f"{each.item_id}:{each.version}" for each in items),
        options={each.item_id: each.options for each in items},
        parameters={each.item_id: each.parameters for each in items if each.parameters},
        answers={each.item_id: to_json(finals.get(each.item_id)) for each in items},
        right=tuple(each.item.id for each in result.items if each.marked.right),
        points=result.points,
        cut=result.cut,
        critical_missed=result.critical_missed,
        passed=result.passed,
        language=sitting.language,
        started=sitting.opened,
        content=sitting.content,
        read_aloud_by=sitting.read_aloud_by,
    )
