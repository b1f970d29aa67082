"""An observation sheet as a draft holds it: what was ticked, noted and answered so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import cast

from trainer.core.checklists import Checklist
from trainer.core.marking import number
from trainer.core.observation import ASSESSMENT, JOBS, OVERALL, PRACTICE
from trainer.core.records import Json, StepSeen
from trainer.core.tours import start_of
from trainer.errors import BadInput
from trainer.store import Draft

__all__ = ["KIND", "SOMEBODY_ELSE", "Details", "Sheet", "body_of", "check_details", "is_signed", "sheet_of"]

KIND = "sheet"

SOMEBODY_ELSE = "somebody-else"
"""Who had the brake, when that is nobody of this site."""

_SIGNED_FOR = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class Details:
    """All of a sheet but its steps.

    ``held`` is the day on which the tour of the watch began, ``tour`` its hours; ``conditions`` maps a condition of the
    checklist to a choice or a number; ``overall`` is ``yes``, ``no`` or not answered yet; ``brake`` the hand_id of who
    had the brake; ``job`` what else the observer had to do.
    """

    observer: str
    held: date
    purpose: str = ASSESSMENT
    tour: str = ""
    conditions: Mapping[str, str] = field(default_factory=dict)
    overall: str = ""
    brake: str = ""
    job: str = "none"
    stop_called: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet being filled in. ``sheet_id`` is also the id of the record that signing it writes.

    ``steps`` holds what was ticked, notes in plain words. ``stand_down_ids`` are the ids, drawn with the sheet, of the
    stand-downs that may have to be written with it, by competency. ``signed`` is when the observer put his PIN to it as
    it stands, empty while he has not.
    """

    sheet_id: str
    checklist: Checklist
    hand: str
    details: Details
    steps: tuple[StepSeen, ...]
    stand_down_ids: Mapping[str, str]
    opened: str
    touched: str
    signed: str = ""

    def step(self, name: str) -> StepSeen | None:
        """What was ticked for that step; ``None`` for nothing yet."""
        return next((each for each in self.steps if each.step == name), None)


def is_signed(sheet: Sheet, now: datetime) -> bool:
    """Whether the observer has put his PIN to the sheet as it stands, no more than ten minutes ago."""
    return bool(sheet.signed) and now - datetime.fromisoformat(sheet.signed) <= _SIGNED_FOR


def check_details(checklist: Checklist, details: Details) -> None:
    """Raise ``BadInput`` for what cannot be: ``sheet-form`` names the field, ``sheet-condition`` the condition."""
    fields = (
        ("purpose", details.purpose in (PRACTICE, ASSESSMENT)),
        ("overall", details.overall in ("", *OVERALL)),
        ("job", details.job in JOBS),
        ("tour", not details.tour or start_of(details.tour) is not None),
    )
    for name, is_right in fields:
        if not is_right:
            raise BadInput("sheet-form", field=name)
    conditions = {each.id: each for each in checklist.conditions}
    for name, value in details.conditions.items():
        condition = conditions.get(name)
        if condition is None or (condition.choices and value not in dict(condition.choices)):
            raise BadInput("sheet-condition", condition=name)
        if not condition.choices:
            # A number and nothing else: free text here would put a person's words into the ledger.
            number(value)


def body_of(sheet: Sheet) -> dict[str, Json]:
    """What a draft keeps of ``sheet``."""
    details = sheet.details
    return {
        "checklist": sheet.checklist.id,
        "observer": details.observer,
        "held": details.held.isoformat(),
        "purpose": details.purpose,
        "tour": details.tour,
        "conditions": dict(details.conditions),
        "overall": details.overall,
        "brake": details.brake,
        "job": details.job,
        "stop_called": details.stop_called,
        "note": details.note,
        "steps": [[each.step, each.state, each.own_act, each.note] for each in sheet.steps],
        "stand_down_ids": dict(sheet.stand_down_ids),
        "signed": sheet.signed,
    }


def sheet_of(draft: Draft, checklist: Checklist) -> Sheet:
    """The sheet that ``draft`` keeps; steps that the checklist no longer has are left out."""
    known = {step.id for step in checklist.steps}
    steps = (StepSeen(*each) for each in cast("list[tuple[str, str, bool, str | None]]", draft.body["steps"]))
    return Sheet(
        sheet_id=draft.draft_id,
        checklist=checklist,
        hand=draft.subject,
        details=_details(draft.body),
        steps=tuple(each for each in steps if each.step in known),
        stand_down_ids=cast("dict[str, str]", draft.body["stand_down_ids"]),
        opened=draft.opened,
        touched=draft.touched,
        signed=cast("str", draft.body.get("signed", "")),
    )


def _details(body: Mapping[str, Json]) -> Details:
    def text(name: str) -> str:
        return cast("str", body[name])

    return Details(
        observer=text("observer"),
        held=date.fromisoformat(text("held")),
        purpose=text("purpose"),
        tour=text("tour"),
        conditions=cast("dict[str, str]", body["conditions"]),
        overall=text("overall"),
        brake=text("brake"),
        job=text("job"),
        stop_called=cast("bool", body["stop_called"]),
        note=text("note"),
    )
