"""What the tests of card, lesson and quiz share: a rig at a known time, a hand's desk, taps without a browser."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.e2e import rig
from trainer import clock
from trainer.actions.desk import Actor, Desk
from trainer.actions.sittings import Sitting
from trainer.core.marking import right_answer
from trainer.core.records import Outside, Part, StoodDown
from trainer.core.shown import ShownTask, to_handles
from trainer.core.tasks import Answer, ChooseAll, ChooseOne, JudgeDrawing, PlaceCrew, PointAt, PutInOrder, TickSteps
from trainer.core.workings import FUNCTIONS
from trainer.web import tasks_drawn

START = datetime.fromisoformat("2026-03-03T15:00:00+00:00")
LESSON = "hand-placement"


@dataclass
class Taps:
    """Stands in for the browser: ``waiting`` is what it says next, ``drawn`` every task that was put on screen."""

    waiting: list[Answer] = field(default_factory=list)
    drawn: list[tuple[ShownTask, Answer | None, dict[str, object]]] = field(default_factory=list)

    def draw(self, task: ShownTask, kept: Answer | None, **about: object) -> Answer | None:
        """As ``tasks_drawn.draw``."""
        self.drawn.append((task, kept, about))
        return None if about.get("locked") or not self.waiting else self.waiting.pop(0)


@contextmanager
def rig_at(data: Path, monkeypatch: pytest.MonkeyPatch, moment: datetime = START) -> Iterator[Desk]:
    """A small rig, its clock stopped at ``moment``."""
    at(monkeypatch, moment)
    desk = rig.open_desk(rig.make(data))
    try:
        yield desk
    finally:
        desk.store.close()


def at(monkeypatch: pytest.MonkeyPatch, moment: datetime) -> None:
    """Stop the clock at ``moment``."""
    monkeypatch.setenv("TRAINER_NOW", clock.stamp(moment))


def later(desk: Desk, hours: float) -> Desk:
    """The same desk ``hours`` later."""
    return replace(desk, now=desk.now + timedelta(hours=hours))


def of(desk: Desk, hand: str) -> Desk:
    """The desk of ``hand``."""
    position, crew, language = rig.PLACES[hand]
    role = desk.catalogue.site.positions[position].role
    return replace(desk, actor=Actor(hand, role, position, crew, language))


def tapping(monkeypatch: pytest.MonkeyPatch) -> Taps:
    """Taps instead of a browser, from now on."""
    taps = Taps()
    monkeypatch.setattr(tasks_drawn, "draw", taps.draw)
    return taps


def open_page(app: AppTest, site: Desk, hand: str, page: str, **steps: str) -> AppTest:
    """``page`` as ``hand`` sees it."""
    signed_in(app, site, hand)
    app.run()
    app.switch_page(f"views/{page}.py")
    for name, value in steps.items():
        app.query_params[name] = value
    return app.run()


def page_words(app: AppTest) -> str:
    """Everything readable on the page."""
    assert not app.exception, app.exception[0].message
    shown = [*app.title, *app.header, *app.subheader, *app.markdown, *app.caption, *app.info, *app.error]
    labels = [button.label for button in app.button]
    return "\n".join([*(each.value for each in shown), *labels, *(each.proto.body for each in app.get("html"))])


def on_page(app: AppTest) -> set[str]:
    """The keys of the buttons on the page."""
    return {button.key for button in app.button if button.key}


def press(app: AppTest, start: str) -> AppTest:
    """Press the button whose key begins with ``start``."""
    return next(button for button in app.button if button.key and button.key.startswith(start)).click().run()


def key_of(sitting: Sitting, position: int) -> Answer:
    """The right answer there, in handles."""
    item, drawn = sitting.item(position)
    return to_handles(item.task, drawn.options, right_answer(item.task, drawn.parameters, FUNCTIONS))


def wrong_of(sitting: Sitting, position: int) -> Answer:
    """An answer there, in handles, that is not right."""
    item, drawn = sitting.item(position)
    match item.task:
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            wrong: Answer = next(each.id for each in options if not each.right)
        case ChooseAll(options=options):
            wrong = (next(each.id for each in options if not each.right),)
        case PointAt(spots=spots):
            wrong = (next(each.part for each in spots if not each.right),)
        case PutInOrder(steps=steps):
            wrong = tuple(reversed([each.id for each in steps]))
        case PlaceCrew(tokens=tokens, whys=whys) as crew:
            # One stands where nobody belongs, the others one to a spot.
            nowhere = next(iter(whys))
            rest = [each for each in crew.spots if each != nowhere]
            wrong = {spot: (token.id,) for spot, token in zip([nowhere, *rest], tokens, strict=False)}
        case TickSteps(rows=rows):
            wrong = {row.id: ("not applicable",) for row in rows}
        case _:
            return "0"
    return to_handles(item.task, drawn.options, wrong)


def passed(desk: Desk, hand: str, part: Part, day: date, by: str = "bill", competency: str = LESSON) -> None:
    """Evidence from elsewhere that ``hand`` passed ``part``."""
    with desk.store.transaction() as writing:
        writing.append(desk.new_record(Outside(competency, part, "pass", by), hand=hand, day=day))


def stood_down(desk: Desk, hand: str, day: date, competency: str = LESSON) -> None:
    """``hand`` is off the slips."""
    with desk.store.transaction() as writing:
        writing.append(desk.new_record(StoodDown(competency, observer="bill"), hand=hand, day=day))
