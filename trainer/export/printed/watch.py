"""The sheet of one watch as it was signed: every step, the judgement, the signatures, and what it came to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from trainer.core.checklists import Checklist, Step
from trainer.core.observation import CLEAN, NOT_MET, NOT_OBSERVED, PRACTICE
from trainer.core.records import Observation, StepSeen
from trainer.export.printed.blocks import facts, paragraph, room, section
from trainer.export.printed.canvas import Canvas
from trainer.export.printed.signs import STATE_FIGURES, critical, critical_width, figure
from trainer.export.printed.source import Source, canvas_for, day, moment, title_block
from trainer.export.titles import Titles
from trainer.export.wording import Says, unit_name

__all__ = ["Void", "WatchSheet", "render"]

_SIZE = 9.0
_NUMBER, _STATE, _SIGN = 7.0, 46.0, 3.6


@dataclass(frozen=True, slots=True)
class Void:
    """By whom, when and why the record was voided; ``why`` is empty where its words were erased."""

    by: str
    day: date
    why: str


@dataclass(frozen=True, slots=True)
class WatchSheet:
    """One signed record. ``names`` gives people by id, ``notes`` the words of a step's note, ``note`` those of all.

    ``checklist`` is today's, whose wording may have changed since; ``None`` where there is none of that name any more.
    ``number`` is the record's in the ledger of ``site``.
    """

    source: Source
    checklist: Checklist | None
    body: Observation
    hand: str
    day: date
    site: str
    number: int
    record_id: str
    hash: str
    names: Mapping[str, str]
    titles: Titles
    note: str = ""
    notes: Mapping[str, str] = field(default_factory=dict)
    stood_down: tuple[str, ...] = ()
    void: Void | None = None

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps as today's sheet has them."""
        return self.checklist.steps if self.checklist else ()

    def name(self, hand: str) -> str:
        """What that person is called."""
        return self.names.get(hand, hand)


def render(report: WatchSheet, words: Says, now: datetime) -> bytes:
    """The sheet."""
    title = words.pick(report.checklist.title) if report.checklist else report.body.checklist
    under = f"{report.name(report.hand)} · {words.say(f'signoff.{report.body.purpose}')} · {day(report.day, words)}"
    canvas = canvas_for(report.source, f"{title}: {report.name(report.hand)}", words, now)
    canvas.page()
    title_block(canvas, words, title, under)
    _void(canvas, report, words)
    facts(canvas, list(_facts(report, words)))
    if report.checklist is None or report.body.content != report.checklist.hash:
        paragraph(canvas, words.say("prints.watch-reworded"), size=8)
    _steps(canvas, report, words)
    _result(canvas, report, words)
    _signatures(canvas, report, words)
    stamp = {"record": report.record_id, "site": report.site, "number": report.number, "hash": report.hash}
    paragraph(canvas, words.say("prints.watch-stamp", **stamp), size=7.5)
    return canvas.finish()


def _void(canvas: Canvas, report: WatchSheet, words: Says) -> None:
    """That it counts no more, in a heavy frame over everything."""
    if report.void is None:
        return
    told = {"by": report.void.by, "day": day(report.void.day, words)}
    text = words.say("prints.watch-void", why=report.void.why or words.say("evidence.why-erased"), **told)
    height = canvas.height_of(text, canvas.inner - 8, 11, bold=True) + 4
    canvas.running = f"{words.say('prints.watch-is-void')} · {canvas.running}"
    canvas.box(canvas.margin + 0.5, canvas.at, canvas.inner - 1, height, thick=1.0)
    canvas.write(text, canvas.margin + 4, canvas.at + 2, canvas.inner - 8, 11, bold=True)
    canvas.at += height + 2


def _facts(report: WatchSheet, words: Says) -> Iterator[tuple[str, str]]:
    say, body = words.say, report.body
    yield say("prints.hand"), report.name(report.hand)
    yield say("prints.observer"), report.name(body.observer)
    yield say("prints.held"), _day(body.held, words)
    yield say("prints.tour"), body.tour or "-"
    yield say("prints.entered"), _day(body.entered, words)
    brake = {"": say("signoff.brake-unknown"), "somebody-else": say("signoff.brake-other")}
    yield say("prints.brake"), brake.get(body.brake, report.name(body.brake))
    for each in report.checklist.conditions if report.checklist else ():
        value = body.conditions.get(each.id, "")
        chosen = dict(each.choices).get(value)
        said = words.pick(chosen) if chosen else f"{value} {unit_name(each.unit, words)}".strip()
        yield words.pick(each.title), said or "-"
    if procedures := report.titles.procedures_of(_covered(report)):
        yield words.count("prints.watch-procedures", len(procedures)), "; ".join(procedures)


def _covered(report: WatchSheet) -> Sequence[str]:
    """The competencies that the sheet is about; of one that the site no longer has, those that came to something."""
    return report.checklist.competencies() if report.checklist else _in_order(report, report.body.outcomes)


def _day(text: str, words: Says) -> str:
    return day(date.fromisoformat(text), words) if text else "-"


def _steps(canvas: Canvas, report: WatchSheet, words: Says) -> None:
    seen = {each.step: each for each in report.body.steps}
    last = ""
    for number, step in enumerate(report.steps, start=1):
        if step.competency != last:
            last = step.competency
            section(canvas, report.titles.competency(last))
        _step(canvas, report, number, step, seen.get(step.id, StepSeen(step.id, NOT_OBSERVED)), words)
    gone = [each for each in report.body.steps if each.step not in {step.id for step in report.steps}]
    if gone:
        told = ", ".join(f"{each.step}: {_state(each, words)}" for each in gone)
        paragraph(canvas, words.say("prints.watch-gone", steps=told))


def _step(canvas: Canvas, report: WatchSheet, number: int, step: Step, seen: StepSeen, words: Says) -> None:
    """Number, whether it is critical, text and note at the left; what it was at the right, as shape and word."""
    wide, word = canvas.inner - _NUMBER - _STATE, words.say("prints.critical")
    first = critical_width(canvas, word, _SIZE) if step.critical else 0.0
    lines = canvas.lines(words.pick(step.text), wide, _SIZE, first=first)
    note = report.notes.get(step.id, "")
    noted = canvas.lines(words.say("evidence.note", note=note), wide, 8) if note else []
    state = canvas.lines(_state(seen, words, is_critical=step.critical), _STATE - 8, _SIZE, bold=True)
    left = len(lines) * canvas.line(_SIZE) + len(noted) * canvas.line(8)
    height = max(left, len(state) * canvas.line(_SIZE)) + 1.4
    room(canvas, height)
    top, x = canvas.at + 0.7, canvas.margin + _NUMBER
    canvas.write(str(number), canvas.margin, top, _NUMBER - 2, _SIZE, align="R", rows=1)
    if step.critical:
        critical(canvas, x, top, word, _SIZE)
    canvas.put(lines[:1], x + first, top, wide - first, _SIZE)
    y = canvas.put(lines[1:], x, top + canvas.line(_SIZE), wide, _SIZE)
    canvas.put(noted, x, y, wide, 8, grey=0.2)
    figure(canvas, STATE_FIGURES[seen.state], canvas.right - _STATE + 2, top, _SIGN)
    canvas.put(state, canvas.right - _STATE + 8, top, _STATE - 8, _SIZE, bold=True)
    canvas.at += height
    canvas.rule(canvas.margin, canvas.at, canvas.right, thick=0.08)


def _state(seen: StepSeen, words: Says, *, is_critical: bool = False) -> str:
    """The state's word; of a miss also whether it was the hand's own act, which is asked of critical steps only."""
    word = words.say(f"parts.state-{seen.state.replace(' ', '-')}")
    if seen.state == NOT_MET and (is_critical or not seen.own_act):
        return words.say("signoff.own-act" if seen.own_act else "signoff.not-own-act", state=word)
    return word


def _result(canvas: Canvas, report: WatchSheet, words: Says) -> None:
    """The judgement over all, and what each competency came to."""
    say, body = words.say, report.body
    section(canvas, say("prints.watch-result"))
    overall = {"yes": say("signoff.overall-yes"), "no": say("signoff.overall-no")}
    paragraph(canvas, f"{say('prints.overall')} {overall.get(body.overall, '-')}")
    if body.stop_called:
        paragraph(canvas, say("signoff.stop-called", name=report.name(report.hand)))
    if report.note:
        paragraph(canvas, say("evidence.note", note=report.note))
    if body.purpose == PRACTICE:
        paragraph(canvas, say("signoff.done-practice"))
    elif not body.outcomes:
        paragraph(canvas, say("signoff.done-none"))
    for competency in _in_order(report, body.outcomes):
        _outcome(canvas, report, competency, words)


def _in_order(report: WatchSheet, outcomes: Mapping[str, str]) -> Sequence[str]:
    known = list(report.titles.competencies)
    return sorted(outcomes, key=lambda each: ([*known, each].index(each), each))


def _outcome(canvas: Canvas, report: WatchSheet, competency: str, words: Says) -> None:
    is_off = competency in report.stood_down
    is_clean = report.body.outcomes[competency] == CLEAN
    shape, key = ("octagon", "off") if is_off else ("tick", "clean") if is_clean else ("half", "not-yet")
    room(canvas, 6)
    figure(canvas, shape, canvas.margin, canvas.at + 0.2, _SIGN)
    text = f"{report.titles.competency(competency)}: {words.say(f'signoff.{key}')}"
    canvas.at = canvas.write(text, canvas.margin + 6, canvas.at, canvas.inner - 6, _SIZE, bold=True) + 0.8


def _signatures(canvas: Canvas, report: WatchSheet, words: Says) -> None:
    """Who put a PIN to it, as what, and when; or that the hand did not."""
    section(canvas, words.say("prints.watch-signed"))
    for each in report.body.signatures:
        at = moment(datetime.fromisoformat(each.at), report.source.zone, words)
        told = {"name": report.name(each.hand), "means": words.say(f"prints.means-{each.means}"), "moment": at}
        paragraph(canvas, words.say("prints.watch-signature", **told))
    if not any(each.role == "hand" for each in report.body.signatures):
        key = "declined" if report.body.hand_present == "declined" else "absent"
        paragraph(canvas, words.say(f"prints.watch-{key}", name=report.name(report.hand)))
