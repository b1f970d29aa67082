"""What a sheet says about the watch itself: day, tour, conditions, the brake, and the observer's own job."""

from __future__ import annotations

from datetime import timedelta

import streamlit as st

from trainer.actions import watched
from trainer.actions.desk import DRILLER
from trainer.actions.sheets import SOMEBODY_ELSE, Sheet
from trainer.actions.watched import Candidate
from trainer.core.checklists import Condition
from trainer.core.observation import JOBS, OVERALL, out_of_range
from trainer.errors import Refused, TrainerError
from trainer.export.wording import unit_name
from trainer.web import signoff_fields, wording
from trainer.web.door import Here
from trainer.web.plain import plain
from trainer.web.signoff_way import name

__all__ = ["brake", "draw_end", "draw_watch", "range_said"]

_EARLIEST = timedelta(days=366)


def draw_watch(here: Here, sheet: Sheet) -> Sheet:
    """The fields over the steps; the sheet as it is after them."""
    with st.container(key="watch-when"):
        sheet = _held(here, sheet)
        sheet = _tour(here, sheet)
        for condition in sheet.checklist.conditions:
            sheet = _condition(here, sheet, condition)
    sheet = _brake(here, sheet)
    return _job(here, sheet)


def draw_end(here: Here, sheet: Sheet) -> Sheet:
    """The fields under the steps; the sheet as it is after them."""
    words, details, person = here.words, sheet.details, name(here, sheet.hand)
    answers = {each: words.say(f"signoff.overall-{each}") for each in OVERALL}
    asked = words.say("signoff.overall", name=person)
    key = f"overall-{sheet.sheet_id}"
    if (overall := signoff_fields.one_of(key, asked, answers, details.overall)) is not None:
        sheet = signoff_fields.keep(here, sheet, key, overall, overall=overall)
    key = f"stop-{sheet.sheet_id}"
    stop = signoff_fields.yes(key, words.say("signoff.stop", name=person), details.stop_called)
    if stop is not None:
        sheet = signoff_fields.keep(here, sheet, key, str(stop), stop_called=stop)
    st.caption(words.say("signoff.stop-text"))
    key = f"note-{sheet.sheet_id}"
    if (note := signoff_fields.text(key, words.say("signoff.note"), details.note)) is not None:
        sheet = signoff_fields.keep(here, sheet, key, note, note=note)
    return sheet


def range_said(here: Here, sheet: Sheet, error: TrainerError) -> str:
    """That a number cannot be right, by the words of its condition, and what to write."""
    asked = next(each for each in sheet.checklist.conditions if each.id == error.values["condition"])
    values = {**error.values, "condition": wording.line(asked.title, here.words)}
    return here.words.say("error.sheet-range", **values)


def brake(here: Here, hand: str) -> str:
    """Who had the brake, in words."""
    if not hand:
        return here.words.say("signoff.brake-unknown")
    return here.words.say("signoff.brake-other") if hand == SOMEBODY_ELSE else name(here, hand)


def _held(here: Here, sheet: Sheet) -> Sheet:
    key, today = f"held-{sheet.sheet_id}", here.desk.today
    label = here.words.say("signoff.held")
    day = signoff_fields.day(key, label, sheet.details.held, today - _EARLIEST, today)
    return sheet if day is None else signoff_fields.keep(here, sheet, key, day.isoformat(), held=day)


def _tour(here: Here, sheet: Sheet) -> Sheet:
    known = [each.tour for each in here.desk.catalogue.site.crews.values() if each.tour]
    tours = sorted({*known, *([sheet.details.tour] if sheet.details.tour else [])})
    if not tours:
        return sheet
    key, shown = f"tour-{sheet.sheet_id}", {each: plain(each) for each in tours}
    tour = signoff_fields.one_of(key, here.words.say("signoff.tour"), shown, sheet.details.tour)
    return sheet if tour is None else signoff_fields.keep(here, sheet, key, tour, tour=tour)


def _condition(here: Here, sheet: Sheet, asked: Condition) -> Sheet:
    words, stored = here.words, sheet.details.conditions.get(asked.id, "")
    key, label = f"{asked.id}-{sheet.sheet_id}", wording.line(asked.title, words)
    if asked.choices:
        shown = {choice: wording.line(text, words) for choice, text in asked.choices}
        value = signoff_fields.one_of(key, label, shown, stored)
    else:
        if asked.unit:
            label = words.say("signoff.unit", title=label, unit=plain(unit_name(asked.unit, words)))
        value = signoff_fields.number(key, label, stored)
    if value is not None:
        sheet = _noted(here, sheet, asked, key, value)
    for error in out_of_range(sheet.checklist, sheet.details.conditions):
        if error.values["condition"] == asked.id:
            st.error(range_said(here, sheet, error))
    return sheet


def _noted(here: Here, sheet: Sheet, asked: Condition, key: str, value: str) -> Sheet:
    others = {each: known for each, known in sheet.details.conditions.items() if each != asked.id}
    return signoff_fields.keep(here, sheet, key, value, conditions={**others, **({asked.id: value} if value else {})})


def _brake(here: Here, sheet: Sheet) -> Sheet:
    """From the hand's crew, drillers first; the observer is among them, for an honest answer.

    So is the hand himself where he is a driller: on a watch of the driller's part it is he who has the brake.
    """
    stored, actor = sheet.details.brake, here.actor.hand
    people = watched.candidates(here.desk)
    crew = next((each.crew for each in people if each.hand == sheet.hand), here.actor.crew)
    near = [each for each in people if each.crew == crew and each.hand != actor and _may_brake(here, each, sheet)]
    # False before true: those with a driller's part.
    shown = {each.hand: plain(each.name) for each in sorted(near, key=lambda each: _role(here, each) != DRILLER)}
    if stored not in ("", SOMEBODY_ELSE):
        shown.setdefault(stored, name(here, stored))
    shown[actor] = here.words.say("signoff.brake-me", name=name(here, actor))
    shown[SOMEBODY_ELSE] = here.words.say("signoff.brake-other")
    key = f"brake-{sheet.sheet_id}"
    kept = stored if stored in shown else ""
    value = signoff_fields.one_of(key, here.words.say("signoff.brake"), shown, kept)
    return sheet if value is None else signoff_fields.keep(here, sheet, key, value, brake=value)


def _may_brake(here: Here, candidate: Candidate, sheet: Sheet) -> bool:
    return candidate.hand != sheet.hand or _role(here, candidate) == DRILLER


def _role(here: Here, candidate: Candidate) -> str:
    position = here.desk.catalogue.site.position(candidate.position)
    return position.role if position else ""


def _job(here: Here, sheet: Sheet) -> Sheet:
    words, key = here.words, f"job-{sheet.sheet_id}"
    shown = {each: words.say(f"signoff.job-{each}") for each in JOBS}
    job = signoff_fields.one_of(key, words.say("signoff.job"), shown, sheet.details.job, required=True)
    if job:
        sheet = signoff_fields.keep(here, sheet, key, job, job=job)
    if sheet.details.job != "none" or sheet.details.brake == sheet.details.observer:
        st.warning(words.error(Refused("observer-has-job")))
    return sheet
