"""An observer watches a hand on the job, fills one sheet and signs it; the hand puts his PIN to what is clean.

A sheet is kept at every tap, so that a wrong PIN, a closed page or a dead battery lose nothing. Paper comes first: the
day and the tour of the watch are kept apart from the day on which it is typed in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from zoneinfo import ZoneInfo

from trainer.actions import may, signing_in
from trainer.actions.desk import Desk
from trainer.actions.sheets import KIND, SOMEBODY_ELSE, Details, Sheet, body_of, check_details, is_signed, sheet_of
from trainer.core.checklists import Checklist
from trainer.core.columns import evidence_columns
from trainer.core.crewlist import Known, known_people
from trainer.core.observation import (
    ASSESSMENT,
    CLEAN,
    NOT_APPLICABLE,
    Observing,
    check_steps,
    disagreement,
    judge,
    may_observe,
    observed_competencies,
    out_of_range,
    to_stand_down,
)
from trainer.core.records import Observation, Record, Signature, StepSeen, StoodDown
from trainer.core.rows import tidy
from trainer.core.standing import holds, is_practical_valid
from trainer.core.tours import began
from trainer.errors import BadInput, NotFound, Refused, TrainerError
from trainer.store import Draft, Reading, Transaction

__all__ = [
    "DECLINED",
    "HAND_PRESENT",
    "NOT_PRESENT",
    "SIGNED",
    "Preview",
    "commit",
    "drop",
    "fill",
    "open_sheet",
    "preview",
    "sheet",
    "sheets",
    "sign",
    "tick",
]

SIGNED = "signed"
DECLINED = "declined"
NOT_PRESENT = "not present"
HAND_PRESENT = (SIGNED, DECLINED, NOT_PRESENT)
"""What the hand did about the sheet: his PIN says that he has seen it, no more."""


@dataclass(frozen=True, slots=True)
class Preview:
    """What signing the sheet now would write.

    ``outcomes`` maps each observed competency to ``clean`` or ``not yet``, empty for practice; ``stand_down`` names the
    competencies that the hand would be stood down for. ``problems`` stand against signing; ``notices`` only want a
    second look: ``alone-but-not-yet``, ``clean-but-not-alone``, ``second-in-tour``.
    """

    outcomes: Mapping[str, str]
    stand_down: tuple[str, ...]
    problems: tuple[TrainerError, ...]
    notices: tuple[str, ...]

    @property
    def needs_hand_pin(self) -> bool:
        """Whether any outcome is clean, which takes both PINs."""
        return CLEAN in self.outcomes.values()

    @property
    def without_hand(self) -> dict[str, str]:
        """The outcomes that count when the hand puts no PIN: what is not yet, so that a refusal stops no stand-down."""
        return {name: outcome for name, outcome in self.outcomes.items() if outcome != CLEAN}


def open_sheet(desk: Desk, checklist: str, hand: str, purpose: str = ASSESSMENT) -> Sheet:
    """A sheet of the actor's for that hand: the one left open, else a new one, held on the day his tour began.

    Raises ``NotFound`` (``no-checklist``, ``no-hand``), ``Refused("observer-is-hand")`` for one's own.
    """
    may.require(desk, "watching.open_sheet")
    steps = _checklist(desk, checklist)
    if hand == desk.actor.hand:
        raise Refused("observer-is-hand")
    if desk.store.person(hand) is None:
        raise NotFound("no-hand", hand=hand)
    with desk.store.transaction() as writing:
        for draft in writing.drafts(owner=desk.actor.hand, kind=KIND, subject=hand):
            if draft.body["checklist"] == checklist and draft.body["purpose"] == purpose:
                return sheet_of(draft, steps)
        tour = _tour_of(desk, writing, hand)
        details = Details(desk.actor.hand, _day_of(desk, tour), purpose, tour)
        check_details(steps, details)
        downs = {each: desk.new_id() for each in steps.competencies()}
        made = Sheet(desk.new_id(), steps, hand, details, (), downs, desk.at, desk.at)
        _put(desk, writing, made)
    return made


def sheets(desk: Desk) -> tuple[Sheet, ...]:
    """The actor's open sheets, the oldest first."""
    may.require(desk, "watching.sheets")
    drafts = desk.store.drafts(owner=desk.actor.hand, kind=KIND)
    known = ((draft, desk.catalogue.checklists.get(str(draft.body["checklist"]))) for draft in drafts)
    return tuple(sheet_of(draft, checklist) for draft, checklist in known if checklist is not None)


def sheet(desk: Desk, sheet_id: str) -> Sheet:
    """The actor's open sheet of that id. Raises ``NotFound("no-draft")``."""
    may.require(desk, "watching.sheet")
    return _sheet(desk.store, desk, sheet_id)


def tick(desk: Desk, sheet_id: str, step: str, state: str, *, own_act: bool = True, note: str = "") -> Sheet:
    """The sheet with that step ticked, kept before this returns; ticking it again replaces the tick.

    ``own_act`` is whether a miss was the hand's own doing; ``note`` says what was seen, and is the reason that *not
    applicable* needs before signing. Raises ``BadInput`` for a step or state that cannot be.
    """
    may.require(desk, "watching.tick")
    seen = StepSeen(step, state, own_act, tidy(note) or None)
    with desk.store.transaction() as writing:
        was = _sheet(writing, desk, sheet_id)
        # A reason may be typed after the tap, so that it is asked for at signing only.
        check_steps(was.checklist, (replace(seen, note="-") if state == NOT_APPLICABLE else seen,))
        others = tuple(each for each in was.steps if each.step != step)
        now = replace(was, steps=(*others, seen), signed="", touched=desk.at)
        _put(desk, writing, now)
    return now


def fill(desk: Desk, sheet_id: str, details: Details) -> Sheet:
    """The sheet with all but its steps replaced, kept before this returns. Raises ``BadInput`` for what cannot be."""
    may.require(desk, "watching.fill")
    if details.held > desk.today:
        raise BadInput("sheet-future", day=details.held)
    with desk.store.transaction() as writing:
        was = _sheet(writing, desk, sheet_id)
        check_details(was.checklist, details)
        now = replace(was, details=replace(details, note=tidy(details.note)), signed="", touched=desk.at)
        _put(desk, writing, now)
    return now


def drop(desk: Desk, sheet_id: str) -> None:
    """Throw the actor's open sheet away; nothing happens where there is none."""
    may.require(desk, "watching.drop")
    with desk.store.transaction() as writing:
        draft = writing.draft(sheet_id)
        if draft is not None and draft.owner == desk.actor.hand and draft.kind == KIND:
            writing.drop_draft(sheet_id)


def preview(desk: Desk, sheet_id: str) -> Preview:
    """What signing the sheet as it stands would write, and what stands against it. Raises ``NotFound("no-draft")``."""
    may.require(desk, "watching.preview")
    return _preview(desk, desk.store, _sheet(desk.store, desk, sheet_id))


def sign(desk: Desk, sheet_id: str, observer_pin: str, device: str = "") -> Sheet:
    """The sheet with the observer's PIN put to it as it stands, so that the hand can put his within ten minutes.

    A later tick or change takes it off again. Raises the first of ``Preview.problems``, or as ``signing_in.check_pin``.
    """
    may.require(desk, "watching.sign")
    seen = _sheet(desk.store, desk, sheet_id)
    found = _preview(desk, desk.store, seen)
    if found.problems:
        raise found.problems[0]
    signing_in.check_pin(desk, seen.details.observer, observer_pin, device)
    with desk.store.transaction() as writing:
        if _sheet(writing, desk, sheet_id) != seen:
            raise Refused("sheet-changed")
        now = replace(seen, signed=desk.at)
        _put(desk, writing, now)
    return now


def commit(
    desk: Desk,
    sheet_id: str,
    observer_pin: str | None,
    hand_pin: str | None = None,
    hand_present: str = SIGNED,
    device: str = "",
) -> Record:
    """The ``observation`` record of a signed sheet, its evidence and stand-downs written with it; the sheet is gone.

    *Not yet* and practice commit on the observer's PIN alone; any clean one takes the hand's too. Without the hand's
    PIN ``hand_present`` says why (``declined``, ``not present``), and clean competencies on the sheet get no outcome.
    ``observer_pin`` may be ``None`` beside the hand's where the observer has just signed (``sign``), else
    ``Refused("observer-pin-needed")``. A second press returns the first record. Raises the first of
    ``Preview.problems``, ``Refused("hand-pin-needed")`` when there would be clean ones only, or as
    ``signing_in.check_pin``; the sheet is then as it was.
    """
    may.require(desk, "watching.commit")
    there = _committed(desk.store, desk, sheet_id)
    if there is not None:
        return there
    seen = _sheet(desk.store, desk, sheet_id)
    _require_signable(_preview(desk, desk.store, seen), hand_pin, hand_present)
    if observer_pin is not None:
        signing_in.check_pin(desk, seen.details.observer, observer_pin, device)
    elif hand_pin is None or not is_signed(seen, desk.now):
        raise Refused("observer-pin-needed")
    if hand_pin is not None:
        signing_in.check_pin(desk, seen.hand, hand_pin, device)
    # The PINs take a while, and the sheet may have changed meanwhile: what is written was looked at in here.
    with desk.store.transaction() as writing:
        there = _committed(writing, desk, sheet_id)
        if there is not None:
            return there
        if _sheet(writing, desk, sheet_id) != seen:
            raise Refused("sheet-changed")
        found = _preview(desk, writing, seen)
        _require_signable(found, hand_pin, hand_present)
        return _write(desk, writing, seen, found, SIGNED if hand_pin is not None else hand_present)


def _committed(reading: Reading, desk: Desk, sheet_id: str) -> Record | None:
    record = reading.record(sheet_id)
    return record if record is not None and record.by == desk.actor.hand else None


def _require_signable(found: Preview, hand_pin: str | None, hand_present: str) -> None:
    if found.problems:
        raise found.problems[0]
    if hand_present not in HAND_PRESENT:
        raise BadInput("sheet-form", field="hand_present")
    if hand_pin is None and (hand_present == SIGNED or (found.needs_hand_pin and not found.without_hand)):
        raise Refused("hand-pin-needed")


def _write(desk: Desk, writing: Transaction, seen: Sheet, found: Preview, hand_present: str) -> Record:
    held = seen.details.held
    body = _observation(desk, writing, seen, found, hand_present)
    record = writing.append(desk.new_record(body, hand=seen.hand, day=held, record_id=seen.sheet_id))
    for competency in found.stand_down:
        down = StoodDown(competency, observation=record.record_id, observer=seen.details.observer)
        writing.append(desk.new_record(down, hand=seen.hand, day=held, record_id=seen.stand_down_ids[competency]))
    writing.drop_draft(seen.sheet_id)
    return record


def _observation(desk: Desk, writing: Transaction, seen: Sheet, found: Preview, hand_present: str) -> Observation:
    details = seen.details

    def kept(note: str | None) -> str | None:
        return writing.keep_text(note, seen.hand) if note else None

    signatures = [Signature(details.observer, "observer", desk.at, "watched")]
    if hand_present == SIGNED:
        signatures.append(Signature(seen.hand, "hand", desk.at, "seen"))
    return Observation(
        checklist=seen.checklist.id,
        content=seen.checklist.hash,
        purpose=details.purpose,
        steps=tuple(replace(each, note=kept(each.note)) for each in _in_order(seen)),
        conditions=details.conditions,
        overall=details.overall,
        observer=details.observer,
        brake=details.brake,
        hand_present=hand_present,
        signatures=tuple(signatures),
        outcomes=found.outcomes if hand_present == SIGNED else found.without_hand,
        held=details.held.isoformat(),
        tour=details.tour,
        entered=desk.today.isoformat(),
        stop_called=details.stop_called,
        note=kept(details.note),
    )


def _in_order(seen: Sheet) -> tuple[StepSeen, ...]:
    """The ticked steps in the order of the checklist."""
    ticked = (seen.step(step.id) for step in seen.checklist.steps)
    return tuple(each for each in ticked if each is not None)


def _preview(desk: Desk, reading: Reading, seen: Sheet) -> Preview:
    is_assessment = seen.details.purpose == ASSESSMENT
    outcomes = judge(seen.checklist, seen.steps) if is_assessment else {}
    problems = tuple(_problems(desk, reading, seen))
    notices = [disagreement(seen.details.overall, outcomes)]
    if is_assessment and any(_is_same_watch(seen, record) for record in _observations(reading, seen.hand)):
        notices.append("second-in-tour")
    stand_down = _stand_down(desk, reading, seen) if is_assessment else ()
    return Preview(outcomes, stand_down, problems, tuple(each for each in notices if each))


def _stand_down(desk: Desk, reading: Reading, seen: Sheet) -> tuple[str, ...]:
    """The competencies of critical steps missed by the hand's own act whose practical part held on that day."""
    missed = to_stand_down(seen.checklist, seen.steps)
    if not missed:
        return ()
    evidence = evidence_columns(reading.evidence_rows(hands=(seen.hand,)))
    day = seen.details.held
    return tuple(each for each in missed if is_practical_valid(desk.catalogue, evidence, seen.hand, each, day))


def _problems(desk: Desk, reading: Reading, seen: Sheet) -> list[TrainerError]:
    """Everything that stands against signing: first what is missing on the sheet, then the observer."""
    is_seen, details = bool(observed_competencies(seen.checklist, seen.steps)), seen.details
    problems: list[TrainerError] = [] if is_seen else [BadInput("sheet-empty")]
    try:
        check_steps(seen.checklist, seen.steps)
    except BadInput as problem:
        problems.append(problem)
    if details.held > desk.today:
        problems.append(BadInput("sheet-future", day=details.held))
    problems += out_of_range(seen.checklist, details.conditions)
    if details.purpose == ASSESSMENT and not details.overall:
        problems.append(BadInput("sheet-overall-missing"))
    if details.purpose == ASSESSMENT and not details.brake:
        problems.append(BadInput("sheet-brake-missing"))
    elif details.brake and details.brake != SOMEBODY_ELSE and reading.person(details.brake) is None:
        problems.append(NotFound("no-hand", hand=details.brake))
    return [*problems, *may_observe(_observing(desk, reading, seen), details.purpose)]


def _observing(desk: Desk, reading: Reading, seen: Sheet) -> Observing:
    observer, day = seen.details.observer, seen.details.held
    evidence = evidence_columns(reading.evidence_rows(hands=(observer,)))
    lacking = tuple(
        each
        for each in observed_competencies(seen.checklist, seen.steps)
        if not holds(desk.catalogue, evidence, observer, each, day)
    )
    observes = _observes(desk, reading, observer, day)
    since_then = day if not observes and _observes(desk, reading, observer, desk.today) else None
    return Observing(observer, seen.hand, observes, seen.details.brake, seen.details.job, lacking, since_then)


def _observes(desk: Desk, reading: Reading, hand: str, day: date) -> bool:
    """Whether ``hand`` was here on ``day`` in a position that observes."""
    place = _place(reading, hand, day)
    position = desk.catalogue.site.position(place.position) if place else None
    return position is not None and position.observes


def _place(reading: Reading, hand: str, day: date) -> Known | None:
    """The stay of ``hand`` that ``day`` lies in."""
    place = known_people({}, (stay for stay in reading.stay_rows(hands=(hand,)) if stay.day <= day)).get(hand)
    return place if place is not None and place.is_here(day) else None


def _observations(reading: Reading, hand: str) -> list[Record]:
    voids = reading.voids()
    return [each for each in reading.records(kinds=("observation",), hand=hand) if each.record_id not in voids]


def _is_same_watch(seen: Sheet, record: Record) -> bool:
    """Whether that earlier assessment is by the same observer with the same sheet in the same tour."""
    body, details = record.body, seen.details
    return isinstance(body, Observation) and (
        (body.purpose, body.observer, body.checklist, body.held, body.tour)
        == (ASSESSMENT, details.observer, seen.checklist.id, details.held.isoformat(), details.tour)
    )


def _tour_of(desk: Desk, reading: Reading, hand: str) -> str:
    place = _place(reading, hand, desk.today)
    crew = desk.catalogue.site.crews.get(place.crew) if place else None
    return crew.tour if crew else ""


def _day_of(desk: Desk, tour: str) -> date:
    """The day on which the last such tour began, by the site's own clock."""
    return began(tour, desk.now.astimezone(ZoneInfo(desk.store.tz)))


def _checklist(desk: Desk, name: str) -> Checklist:
    checklist = desk.catalogue.checklists.get(name)
    if checklist is None:
        raise NotFound("no-checklist", checklist=name)
    return checklist


def _sheet(reading: Reading, desk: Desk, sheet_id: str) -> Sheet:
    draft = reading.draft(sheet_id)
    if draft is None or draft.owner != desk.actor.hand or draft.kind != KIND:
        raise NotFound("no-draft")
    return sheet_of(draft, _checklist(desk, str(draft.body["checklist"])))


def _put(desk: Desk, writing: Transaction, made: Sheet) -> None:
    writing.put_draft(Draft(made.sheet_id, desk.actor.hand, KIND, made.hand, body_of(made), made.opened, made.touched))
