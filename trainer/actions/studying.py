"""Where the one who is acting stands with lessons and quizzes, and what to do next: what a card needs beside standings.

Everybody asks this about himself only, so no rows of another hand are read.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from trainer.actions import learning, may, quizzing
from trainer.actions.attempts import History, histories
from trainer.actions.desk import Desk
from trainer.actions.look import Card
from trainer.actions.quizzing import Review
from trainer.actions.sittings import KIND
from trainer.core.banks import Bank
from trainer.core.catalogue import Competency
from trainer.core.lessons import Lesson
from trainer.core.matrix import Cell, Standing
from trainer.core.records import LessonTaken, Part
from trainer.core.retakes import MayStart

__all__ = ["NextStep", "Study", "last_review", "next_step", "studies", "what_now"]

_WAITS = ("watch", "quiz-too-soon", "quiz-talk-first")
"""Next things that wait for somebody else, or for another day."""


@dataclass(frozen=True, slots=True)
class Study:
    """The lesson and the quiz of one competency.

    ``lesson`` and ``quiz`` are ids, empty where there is none. ``scene`` counts from 1, 0 for a lesson not begun or
    finished; ``is_played`` says that it was played to its end before. ``saved`` is how many answers an open quiz has,
    ``None`` when none is open; ``allowed`` whether a new one may be started, ``None`` where there is no quiz;
    ``is_missed`` that the last try at it was not passed.
    """

    competency: str
    lesson: str = ""
    scene: int = 0
    scenes: int = 0
    minutes: int = 0
    is_played: bool = False
    quiz: str = ""
    saved: int | None = None
    items: int = 0
    allowed: MayStart | None = None
    is_missed: bool = False


@dataclass(frozen=True, slots=True)
class NextStep:
    """The one thing to do next.

    ``what``: ``see-driller``, ``go-on-quiz``, ``lesson``, ``go-on-lesson``, ``quiz``, ``quiz-too-soon``,
    ``quiz-talk-first``, ``watch``, ``nothing`` or ``nothing-due``. ``competency`` is empty where it is about none.
    """

    what: str
    competency: str = ""


def studies(desk: Desk) -> Mapping[str, Study]:
    """Each competency that has a lesson or a quiz, by id, as the actor stands with them. Closes what is stale first."""
    may.require(desk, "studying.studies")
    quizzing.close_stale(desk)
    bodies = [record.body for record in desk.store.records(kinds=("lesson",), hand=desk.actor.hand)]
    played = frozenset(body.lesson for body in bodies if isinstance(body, LessonTaken))
    tried = histories(desk.store, desk.actor.hand)
    opened = {draft.subject for draft in desk.store.drafts(owner=desk.actor.hand, kind=KIND)}
    found = (_study(desk, each, played, tried, opened) for each in desk.catalogue.competencies)
    return {each.competency: each for each in found if each.lesson or each.quiz}


def last_review(desk: Desk, quiz: str) -> Review | None:
    """The actor's last try at ``quiz``, whatever came of it; ``None`` before the first."""
    may.require(desk, "studying.studies")
    history = histories(desk.store, desk.actor.hand).get(quiz)
    return quizzing.review(desk, history.taken[-1].record_id) if history else None


def next_step(card: Card, mine: Mapping[str, Study]) -> NextStep:
    """What to do first: see the driller, finish an open quiz, else what the card says.

    Where that has to wait for a free observer or another day, whatever can be learnt at once goes before it.
    """
    if card.next is not None and card.next.what == "see-driller":
        return NextStep("see-driller", card.next.competency)
    if open_one := next((each for each in mine.values() if each.saved is not None), None):
        return NextStep("go-on-quiz", open_one.competency)
    if card.next is None:
        waiting = [cell for cell in card.cells if cell.due]
        return NextStep("nothing-due", min(waiting, key=_due).competency) if waiting else NextStep("nothing")
    first = NextStep(_what(card.next.what, mine.get(card.next.competency)), card.next.competency)
    if first.what not in _WAITS:
        return first
    return next(_here_and_now(card, mine), first)


def what_now(step: str, study: Study) -> str:
    """What ``NextStep`` calls a ``lesson`` or ``quiz`` that is the next step of one subject; empty for anything else.

    A quiz that was begun comes before both.
    """
    if study.saved is not None:
        return "go-on-quiz"
    return _what(step, study) if step in ("lesson", "quiz") and (study.lesson or study.quiz) else ""


def _here_and_now(card: Card, mine: Mapping[str, Study]) -> Iterator[NextStep]:
    """What is missing and can be learnt on this tablet at once, what is due first coming first."""
    for cell in sorted(card.cells, key=_due):
        knowledge = next((each for each in card.parts[cell.competency] if each.part is Part.KNOWLEDGE), None)
        runs_out = cell.standing is Standing.DUE and cell.reason.part == Part.KNOWLEDGE
        if knowledge is None or (knowledge.holds and not runs_out):
            continue
        # Who has passed it before goes straight to the quiz.
        wanted = "lesson" if knowledge.through is None else "quiz"
        step = NextStep(_what(wanted, mine.get(cell.competency)), cell.competency)
        if step.what not in _WAITS:
            yield step


def _due(cell: Cell) -> int:
    return cell.due.toordinal() if cell.due else date.max.toordinal()


def _what(wanted: str, study: Study | None) -> str:
    if wanted == "sign-off" or study is None:
        return "watch"
    if wanted == "lesson" and study.lesson and not study.is_played:
        return "go-on-lesson" if study.scene else "lesson"
    return "quiz" if study.allowed is None or study.allowed.ok else f"quiz-{study.allowed.code}"


def _study(
    desk: Desk, competency: Competency, played: frozenset[str], tried: Mapping[str, History], opened: set[str]
) -> Study:
    needs = competency.needs.knowledge
    bank = desk.catalogue.banks.get(needs.quiz) if needs else None
    lesson = _lesson_of(desk, competency, bank)
    scene = learning.scene_number(desk, lesson.id) if lesson else 0
    sitting = quizzing.open_sitting(desk, bank.id) if bank and bank.id in opened else None
    history = tried.get(bank.id, History()) if bank else History()
    allowed = history.may_start(desk.catalogue.site.assessment, desk.now) if bank else None
    return Study(
        competency=competency.id,
        lesson=lesson.id if lesson else "",
        scene=scene,
        scenes=len(lesson.scenes) if lesson else 0,
        minutes=lesson.minutes if lesson else 0,
        is_played=lesson is not None and lesson.id in played,
        quiz=bank.id if bank else "",
        saved=sitting.answered if sitting else None,
        items=bank.blueprint.items if bank else 0,
        allowed=allowed,
        is_missed=history.is_missed,
    )


def _lesson_of(desk: Desk, competency: Competency, bank: Bank | None) -> Lesson | None:
    """The lesson that the quiz names, else the first one on the competency."""
    lessons = desk.catalogue.lessons
    if bank is not None and bank.lesson in lessons:
        return lessons[bank.lesson]
    return next((each for each in lessons.values() if each.competency == competency.id), None)
