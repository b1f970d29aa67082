"""The right answer to what stands on a screen, found on the test's side, and given through the screen itself.

A ``Person`` sits at one page and works it by tap or by keyboard alone; what is asked is read from the store, so that a
form that is drawn anew in every run can be answered in every run.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Literal

from playwright.sync_api import Locator, Page, expect

from tests.e2e.conftest import PATIENCE_MS, settled
from trainer import words
from trainer.actions import learning
from trainer.actions.desk import Desk
from trainer.actions.learning import Playing
from trainer.actions.sittings import Sitting
from trainer.core.beside import pair_of
from trainer.core.marking import right_answer
from trainer.core.playing import ONWARD
from trainer.core.sheets import as_drawn
from trainer.core.shown import to_handles
from trainer.core.tasks import (
    Answer,
    ChooseAll,
    ChooseOne,
    JudgeDrawing,
    PlaceCrew,
    PointAt,
    PutInOrder,
    ReadSheet,
    Task,
    TickSteps,
    WorkOut,
)
from trainer.core.text import Text, pick
from trainer.core.workings import FUNCTIONS
from trainer.curriculum import PictureText
from trainer.words import Words

__all__ = ["Asked", "Person", "handles", "in_lesson", "in_quiz", "play", "right", "until", "wrong"]

_MOST_TABS = 120
_APP = Path(__file__).parents[2]
_HAS_FOCUS = "each => each.getRootNode().activeElement === each"


@cache
def _words() -> Mapping[str, Words]:
    return words.load(_APP, _APP)


@dataclass(frozen=True, slots=True)
class Asked:
    """One task as it was drawn."""

    task: Task
    order: tuple[str, ...]
    parameters: Mapping[str, str] = field(default_factory=dict)


def in_lesson(playing: Playing) -> Asked | None:
    """What the scene asks that a lesson stands in; ``None`` for a scene that is only read."""
    scene = playing.scene
    assert scene is not None
    return Asked(scene.task, playing.play.order(scene), playing.play.parameters(scene)) if scene.task else None


def in_quiz(sitting: Sitting, position: int) -> Asked:
    """What the quiz asks at ``position``."""
    item, drawn = sitting.item(position)
    return Asked(item.task, drawn.options, drawn.parameters)


def right(asked: Asked) -> Answer:
    """A right answer, in ids."""
    return right_answer(asked.task, asked.parameters, FUNCTIONS)


def wrong(asked: Asked) -> Answer:
    """An answer, in ids, that is not right."""
    match as_drawn(asked.task, asked.parameters):
        case ChooseOne(options=options) | JudgeDrawing(options=options):
            return next(each.id for each in options if not each.right)
        case ChooseAll(options=options):
            return (next(each.id for each in options if not each.right),)
        case PointAt(spots=spots):
            return (next(each.part for each in spots if not each.right),)
        case PutInOrder(steps=steps):
            return tuple(reversed([each.id for each in steps]))
        case PlaceCrew() as crew:
            return _one_elsewhere(crew, right(asked))
        case TickSteps(rows=rows):
            return {row.id: ("not applicable",) for row in rows}
        case WorkOut():
            return "0"


def _one_elsewhere(task: PlaceCrew, held: Answer) -> Answer:
    """Everybody where he belongs but the first, who stands where nobody does."""
    assert isinstance(held, Mapping)
    first = task.tokens[0].id
    others = {spot: tuple(each for each in there if each != first) for spot, there in held.items()}
    empty = next(each for each in task.spots if each not in held)
    return {empty: (first,), **{spot: there for spot, there in others.items() if there}}


def play(desk: Desk, lesson: str, scene: str = "", last: Callable[[Asked], Answer] | None = None) -> str:
    """``lesson`` played from its start to its end, or to ``scene`` and there answered by ``last``; its address then."""
    learning.drop(desk, learning.open_lesson(desk, lesson).draft_id)
    playing = learning.open_lesson(desk, lesson)
    while playing.scene is not None:
        is_there, asked = playing.scene.id == scene, in_lesson(playing)
        if is_there and last is None:
            return f"lesson?lesson={lesson}&seen={len(playing.path)}"
        given = ONWARD if asked is None else handles(asked, (last if is_there and last else right)(asked))
        playing = learning.choose(desk, playing.draft_id, playing.scene.id, given)
        if is_there:
            return f"lesson?lesson={lesson}"
    learning.finish(desk, playing.draft_id)
    return f"lesson?lesson={lesson}&done=1"


def handles(asked: Asked, answer: Answer) -> Answer:
    """``answer`` as a browser sends it."""
    return to_handles(asked.task, asked.order, answer)


def until(page: Page, is_so: Callable[[], bool]) -> None:
    """Wait until something is so that the page does not tell, such as what the store holds."""
    end = time.monotonic() + PATIENCE_MS / 1000
    while not is_so():
        assert time.monotonic() < end, "it did not come to that"
        page.wait_for_timeout(20)


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody at ``page``, by tap or ``by_keyboard`` alone; ``pictures`` has the names of picture parts."""

    page: Page
    pictures: Mapping[str, PictureText]
    by_keyboard: bool = False
    language: str = "en"

    def press(self, name: str | re.Pattern[str]) -> None:
        """Press the button of that name."""
        button = self.page.get_by_role("button", name=name, exact=True)
        expect(button).to_be_enabled()
        self._press(button)

    def give(self, asked: Asked, answer: Answer) -> None:
        """Put ``answer``, in ids, into the task on screen. Nothing is pressed after it."""
        match asked.task, answer:
            case ((ChooseOne() | JudgeDrawing() | ReadSheet()), str()):
                self._choose(self._option(asked, answer, "radio"))
            case ChooseAll(), tuple():
                self._set(asked, answer)
            case PointAt(), tuple():
                self._point(asked, answer)
            case PutInOrder(picture=None), tuple():
                self._sort(asked, answer)
            case PutInOrder(), tuple():
                self._number_on_picture(asked, answer)
            case PlaceCrew(), Mapping():
                self._place(asked, answer)
            case TickSteps(), Mapping():
                for row, (state,) in answer.items():
                    self._tick(asked, row, state)
            case WorkOut(unit=unit), str():
                self._write(answer, unit if pair_of(unit) else "")
        settled(self.page)

    def sees(self, asked: Asked, answer: Answer) -> None:
        """Expect the task on screen to hold ``answer``, in ids, and nothing else."""
        match asked.task, answer:
            case ((ChooseOne() | JudgeDrawing() | ReadSheet()), str()):
                expect(self._option(asked, answer, "radio")).to_be_checked()
            case ChooseAll(), tuple():
                for each in asked.order:
                    expect(self._option(asked, each, "checkbox")).to_be_checked(checked=each in answer)
            case PointAt(), tuple():
                for each in asked.order:
                    expect(self._spot(asked, each)).to_have_attribute("aria-pressed", str(each in answer).lower())
            case PutInOrder(picture=None), tuple():
                for number, each in enumerate(answer):
                    expect(self._ups().nth(number)).to_have_accessible_name(self._up(asked, each))
            case PutInOrder(), tuple():
                for number, each in enumerate(answer, start=1):
                    name = f"{self._step(asked, each)}{self._say('parts.plan-number', place=number)}"
                    expect(self.page.get_by_role("button", name=name, exact=True)).to_be_attached()
            case PlaceCrew(), Mapping():
                for spot, tokens in answer.items():
                    for token in tokens:
                        at = f"{self._token_name(asked, token)}, {self._label(asked, spot)}"
                        expect(self.page.get_by_role("button", name=at, exact=True)).to_be_attached()
            case TickSteps(), Mapping():
                for row, (state,) in answer.items():
                    expect(self._segment(asked, row, state)).to_be_checked()
            case WorkOut(), str():
                expect(self._number()).to_have_value(answer)

    def _press(self, button: Locator) -> None:
        if self.by_keyboard:
            self._tab_to(button)
            self.page.keyboard.press("Enter")
        else:
            button.click()

    def _tab_to(self, target: Locator) -> None:
        expect(target).to_be_visible()
        for _ in range(_MOST_TABS):
            if target.evaluate(_HAS_FOCUS):
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"the Tab key does not come to {target}")

    def _choose(self, radio: Locator, group: Locator | None = None) -> None:
        if not self.by_keyboard:
            radio.check()
            return
        # One tab stop for the whole group; arrows go round in it and choose.
        group = group or self.page.get_by_role("radiogroup")
        for _ in range(_MOST_TABS):
            if group.evaluate("each => each.contains(each.getRootNode().activeElement)"):
                break
            self.page.keyboard.press("Tab")
        self.page.keyboard.press("Space")
        for _ in range(group.get_by_role("radio").count()):
            if radio.is_checked():
                break
            self.page.keyboard.press("ArrowDown")
        expect(radio).to_be_checked()

    def _set(self, asked: Asked, answer: tuple[str, ...]) -> None:
        for each in asked.order:
            box = self._option(asked, each, "checkbox")
            if box.is_checked() == (each in answer):
                continue
            if self.by_keyboard:
                self._tab_to(box)
                self.page.keyboard.press("Space")
            else:
                box.click()
            expect(box).to_be_checked(checked=each in answer)

    def _point(self, asked: Asked, answer: tuple[str, ...]) -> None:
        for each in asked.order:
            spot, wanted = self._spot(asked, each), str(each in answer).lower()
            if spot.get_attribute("aria-pressed") != wanted:
                self._press(spot)
            expect(spot).to_have_attribute("aria-pressed", wanted)

    def _sort(self, asked: Asked, answer: tuple[str, ...]) -> None:
        expect(self._ups()).to_have_count(len(answer))
        has_moved = False
        for number, each in enumerate(answer):
            name = self._up(asked, each)
            while (now := self._names(self._ups()).index(name)) > number:
                self._press(self.page.get_by_role("button", name=name, exact=True))
                expect(self._ups().nth(now - 1)).to_have_accessible_name(name)
                has_moved = True
        same = self.page.get_by_role("button", name=self._say("parts.order-same"), exact=True)
        if not has_moved and same.is_visible():
            self._press(same)

    def _number_on_picture(self, asked: Asked, answer: tuple[str, ...]) -> None:
        for each in asked.order:
            step = self._starting(self._step(asked, each))
            if step.get_attribute("aria-pressed") == "true":
                self._press(step)
                expect(step).to_have_attribute("aria-pressed", "false")
        for each in answer:
            step = self._starting(self._step(asked, each))
            self._press(step)
            expect(step).to_have_attribute("aria-pressed", "true")
        self.sees(asked, answer)

    def _step(self, asked: Asked, name: str) -> str:
        """How the button of a step on a picture is called, up to its number."""
        assert isinstance(asked.task, PutInOrder)
        assert asked.task.picture
        where = self.pictures[asked.task.picture.name].parts[asked.task.at[name]]
        return f"{pick(where, self.language)}: {self._label(asked, name)}, "

    def _up(self, asked: Asked, name: str) -> str:
        return self._say("parts.order-up", what=self._label(asked, name))

    def _say(self, key: str, **values: object) -> str:
        return _words()[self.language].say(key, **values)

    def _place(self, asked: Asked, answer: Mapping[str, tuple[str, ...]]) -> None:
        for spot, tokens in answer.items():
            for token in tokens:
                self._press(self._starting(f"{self._token_name(asked, token)}, "))
                place = self._starting(f"{self._label(asked, spot)}, ")
                if self.by_keyboard:
                    self._press(place)
                else:
                    # A thumb falls on whoever stands there already, and that counts for the spot.
                    place.click(force=True)
        self.sees(asked, answer)

    def _tick(self, asked: Asked, row: str, state: str) -> None:
        self._choose(self._segment(asked, row, state), self._row(asked, row))

    def _row(self, asked: Asked, row: str) -> Locator:
        return self.page.get_by_role("group", name=re.compile(re.escape(self._label(asked, row))))

    def _segment(self, asked: Asked, row: str, state: str) -> Locator:
        word = self._say(f"parts.state-{state.replace(' ', '-')}")
        return self._row(asked, row).get_by_role("radio", name=word, exact=True)

    def _write(self, answer: str, unit: str) -> None:
        if self.by_keyboard:
            self._tab_to(self._number())
            self.page.keyboard.type(answer)
        else:
            self._number().fill(answer)
        self.page.keyboard.press("Enter")
        if unit:
            self._press(self.page.get_by_role("radio", name=unit, exact=True))

    def _option(self, asked: Asked, name: str, role: Literal["radio", "checkbox"]) -> Locator:
        return self.page.get_by_role(role, name=self._label(asked, name), exact=True)

    def _spot(self, asked: Asked, name: str) -> Locator:
        return self.page.get_by_role("button", name=self._label(asked, name), exact=True)

    def _number(self) -> Locator:
        called = self._say("quiz.number", unit="").partition(",")[0]
        return self.page.get_by_role("textbox", name=re.compile(f"^{called}"))

    def _ups(self) -> Locator:
        return self.page.get_by_role("button", name=re.compile(f"^{self._say('parts.order-up', what='')}"))

    def _names(self, buttons: Locator) -> list[str | None]:
        return [each.get_attribute("aria-label") for each in buttons.all()]

    def _starting(self, text: str) -> Locator:
        return self.page.get_by_role("button", name=re.compile(f"^{re.escape(text)}"))

    def _token_name(self, asked: Asked, name: str) -> str:
        assert isinstance(asked.task, PlaceCrew)
        return pick(next(each.text for each in asked.task.tokens if each.id == name), self.language)

    def _label(self, asked: Asked, name: str) -> str:
        """What the option, step or part is called on screen."""
        match asked.task:
            case ChooseOne(options=options) | ChooseAll(options=options) | JudgeDrawing(options=options):
                text: Text | None = next(each.text for each in options if each.id == name)
            case PutInOrder(steps=steps):
                text = next(each.text for each in steps if each.id == name)
            case TickSteps(rows=rows):
                text = next(each.text for each in rows if each.id == name)
            case ReadSheet(options=told):
                text = next(each.text for each in told if each.id == name)
            case PointAt(picture=picture) | PlaceCrew(picture=picture):
                text = self.pictures[picture.name].parts[name]
            case _:
                text = None
        assert text is not None
        return pick(text, self.language)
