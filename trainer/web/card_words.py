"""What a card says: standings, parts, reasons and the next thing in plain words, escaped for ``st.markdown``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from trainer.actions import look as looking
from trainer.actions.look import Card
from trainer.actions.studying import NextStep, Study
from trainer.core.matrix import Cell, Rule, Standing
from trainer.core.progress import PartProgress
from trainer.core.records import Effect, Part
from trainer.export.printed.record import due_key
from trainer.web import door, evidence_drawn, titles, wording
from trainer.web.plain import plain

__all__ = ["knowledge", "lines", "next_text", "next_title", "practical", "rest", "standing_lines", "title", "tried"]

_SAID = (Rule.AFTER, Rule.AGAIN, Rule.LAST_HITCH, Rule.NO_HITCH)
"""Reasons that the lines about due date and parts do not tell by themselves."""


def title(here: door.Here, competency: str) -> str:
    """The competency's name."""
    return plain(titles.competency(here, competency))


def next_title(here: door.Here, card: Card, step: NextStep, study: Study) -> str:
    """The next thing in one line."""
    words = here.words
    count = {"saved": study.saved or 0, "items": study.items, "scene": study.scene, "scenes": study.scenes}
    told = {"title": title(here, step.competency), "day": _due_of(here, card, step.competency), **count}
    more = _due_with(card, step.competency) if step.what == "nothing-due" else 0
    return words.say(f"card.next-{step.what}{'-more' if more else ''}", more=more, **told)


def next_text(here: door.Here, card: Card, step: NextStep, study: Study) -> str:
    """A line more about the next thing; empty where its title says all."""
    words = here.words
    match step.what:
        case "lesson" | "go-on-lesson" if study.is_missed:
            return tried(here, study)
        case "lesson":
            return words.say("card.next-lesson-text", minutes=study.minutes)
        case "watch":
            practical = [each for each in card.parts.get(step.competency, ()) if each.part is Part.PRACTICAL]
            return " ".join(_part(here, each) for each in practical)
        case "quiz-too-soon" | "quiz-talk-first" if study.allowed and study.allowed.since:
            since = wording.moment(study.allowed.since, here.desk.store.tz, words)
            return words.say(f"card.{step.what}-text", moment=plain(since))
    return ""


def lines(here: door.Here, cell: Cell, parts: Sequence[PartProgress], study: Study) -> list[str]:
    """Everything about one competency beside its standing: the due date, each part, what else is in the way."""
    due = [f"**{here.words.say(due_key(cell), day=_day(here, cell.due))}**"] if cell.due else []
    if cell.standing is Standing.STOOD_DOWN:
        due = []
    return [*due, *standing_lines(here, cell, parts, study), *rest(here, cell, parts)]


def standing_lines(here: door.Here, cell: Cell, parts: Sequence[PartProgress], study: Study) -> list[str]:
    """What one has to know to understand the standing: off the slips, a quiz tried, what made it begun, the reason."""
    if cell.standing is Standing.STOOD_DOWN:
        return [here.words.say("card.stood-down-text")]
    said = [tried(here, study)] if study.is_missed else []
    return [*said, *_begun_by(here, cell, parts), *_reason(here, cell)]


def rest(here: door.Here, cell: Cell, parts: Sequence[PartProgress]) -> list[str]:
    """What is left to tell: the last day of work before it is due, and each part."""
    if cell.standing is Standing.STOOD_DOWN:
        return []
    return [*_do_by(here, cell), *(_part(here, each) for each in parts)]


def knowledge(here: door.Here, parts: Sequence[PartProgress]) -> str:
    """How it is with the quiz, in one line; empty where none is needed."""
    return next((_part(here, each) for each in parts if each.part is Part.KNOWLEDGE), "")


def practical(here: door.Here, parts: Sequence[PartProgress]) -> str:
    """How far it is on the job, in one line; empty where it holds there or none is needed."""
    return next((_part(here, each) for each in parts if each.part is Part.PRACTICAL and not each.holds), "")


def tried(here: door.Here, study: Study) -> str:
    """That the last try was not yet, and from when the next one may be."""
    words, allowed = here.words, study.allowed
    if allowed is None or allowed.ok:
        return words.say("card.tried-again-now")
    since = wording.moment(allowed.since, here.desk.store.tz, words) if allowed.since else ""
    return words.say(f"card.tried-{allowed.code}", moment=plain(since))


def _begun_by(here: door.Here, cell: Cell, parts: Sequence[PartProgress]) -> Iterator[str]:
    """What made it begun, where no part tells: a talk with the crew, as a rule."""
    is_told = any(each.through or each.watches for each in parts)
    if cell.standing is not Standing.LEARNING or cell.reason.rule == Rule.AGAIN or is_told:
        return
    records = looking.evidence_of(here.desk, cell.hand, cell.competency, here.desk.today)
    passed = (each for each in records if each.effect == Effect.PASS and each.voided is None)
    if latest := next(passed, None):
        what = plain(evidence_drawn.kind_of(here, latest))
        yield here.words.say("card.begun-by", what=what, day=_day(here, latest.day))


def _due_of(here: door.Here, card: Card, competency: str) -> str:
    return next((_day(here, cell.due) for cell in card.cells if cell.competency == competency and cell.due), "")


def _due_with(card: Card, competency: str) -> int:
    """How many others are due on the very day on which this one is."""
    due = {cell.competency: cell.due for cell in card.cells}
    return sum(day is not None and day == due.get(competency) for day in due.values()) - 1


def _do_by(here: door.Here, cell: Cell) -> Iterator[str]:
    if isinstance(cell.do_by, date) and cell.do_by != cell.due and cell.standing is not Standing.CURRENT:
        yield here.words.say("card.do-by", day=_day(here, cell.do_by))


def _part(here: door.Here, each: PartProgress) -> str:
    words, name = here.words, here.words.say(f"card.part-{each.part}")
    if each.through is not None:
        key = "card.part-holds" if each.holds else "card.part-ran-out"
        return f"{name}: {words.say(key, day=_day(here, each.through))}"
    if each.part is Part.KNOWLEDGE:
        return f"{name}: {words.say('card.quiz-not-yet')}"
    watches = words.count("card.watches", each.of_watches, done=min(each.watches, each.of_watches))
    needs_another = each.watches and each.of_watchers > 1 and each.watchers < each.of_watchers
    tail = words.say("card.another-observer") if needs_another else ""
    return f"{name}: {watches} {tail}".rstrip()


def _reason(here: door.Here, cell: Cell) -> Iterator[str]:
    rule = cell.reason.rule
    if rule not in _SAID:
        return
    yield here.words.say(f"card.why-{rule}", part=title(here, cell.reason.part) if rule == Rule.AFTER else "")


def _day(here: door.Here, value: date) -> str:
    return plain(wording.day(value, here.words))
