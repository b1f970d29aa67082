"""Drillers record what was done to a slip set or a bowl: checks, die changes, paper tests, out of service and back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import cast

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core.gear import (
    BOWL,
    MOST_DIES,
    MOST_LOAD_KN,
    OUTCOMES,
    SLIPS,
    Event,
    GearState,
    What,
    gear_states,
    needs_word,
)
from trainer.core.marking import number
from trainer.core.records import Gear, Record
from trainer.core.rig import worn_crush_limit
from trainer.core.rows import tidy
from trainer.core.units import Kind, from_si
from trainer.errors import BadInput
from trainer.mechanics import NextStep, Reading, Verdict, next_step, read_imprint

__all__ = ["Imprint", "PaperTest", "advice", "events", "load_problem", "note", "note_test", "states"]

_NOMINAL_LENGTH = 0.4
"""Contact length [m] for the verdict alone, which does not depend on it."""

Imprint = Sequence[Sequence[float]]
"""Of each segment the share of its top, middle and bottom third that printed, 0 to 1."""


@dataclass(frozen=True, slots=True)
class PaperTest:
    """A paper test on record: the reading, what to do next, and the record."""

    reading: Reading
    step: NextStep
    record: Record


def states(desk: Desk) -> tuple[GearState, ...]:
    """Each slip set and bowl of the site as it stands today."""
    may.require(desk, "gearing.states")
    site = desk.catalogue.site
    return gear_states(site.gear, _events(desk), site.gear_rules, desk.today)


def events(desk: Desk, gear: str) -> list[tuple[Event, str]]:
    """What was done to ``gear``, the latest first, each with what was written about it; voided records are left out."""
    may.require(desk, "gearing.events")
    about = [each for each in _records(desk) if isinstance(each.body, Gear) and gear in _gear_of(each.body)]
    told = [(_event(each), desk.store.text(_note_of(each)) or "") for each in about]
    return told[::-1]


def note(
    desk: Desk, gear: str, what: str, outcome: str, told: str, day: date, figures: Mapping[str, str], record_id: str
) -> Record:
    """The ``gear`` record of a check, a die change, out of service or back; a second press returns the first record.

    Raises ``BadInput`` for gear, outcome or day that cannot be, a die count that cannot be or does not fit its outcome,
    and without a word on why it goes out or on who decided that it comes back.
    """
    may.require(desk, "gearing.note")
    done = _what(what)
    if done is What.TEST or outcome not in OUTCOMES[done]:
        raise BadInput("gear-outcome", outcome=outcome)
    _require(desk, gear, day, SLIPS if done is What.DIES else "")
    if done is What.DIES:
        _require_count(outcome, figures)
    why = tidy(told)
    if not why and needs_word(done, outcome):
        raise BadInput("gear-no-word")
    return _append(desk, Gear(gear, done.value, outcome, dict(figures)), why, day, record_id)


def note_test(
    desk: Desk, slips: str, bowl: str, imprint: Imprint, load_kn: str, told: str, day: date, record_id: str
) -> PaperTest:
    """The ``gear`` record of a paper test of ``slips`` in ``bowl``, with its reading and what to do next.

    ``load_kn`` [kN] is the load on the slips, not the indicator's reading. Raises ``BadInput`` for gear, day or load
    that cannot be, and ``MechanicsRangeError`` for a share beyond 0 to 1.
    """
    may.require(desk, "gearing.note_test")
    _require(desk, slips, day, SLIPS)
    _require(desk, bowl, day, BOWL)
    load = number(load_kn)
    if problem := load_problem(desk, slips, float(load)):
        raise problem
    if len(imprint) != desk.catalogue.site.gear[slips].segments:
        raise BadInput("gear-segments", segments=desk.catalogue.site.gear[slips].segments)
    reading = read_imprint(imprint, _NOMINAL_LENGTH)
    step = advice(desk, slips, bowl, reading, record_id)
    figures = {
        "bowl": bowl,
        "load_kn": f"{float(load):g}",
        "contact": ";".join(",".join(f"{float(third):g}" for third in segment) for segment in imprint),
        "coverage": f"{reading.coverage:.3f}",
    }
    body = Gear(slips, What.TEST.value, reading.verdict, figures)
    return PaperTest(reading, step, _append(desk, body, tidy(told), day, record_id))


def load_problem(desk: Desk, slips: str, load_kn: float) -> BadInput | None:
    """Why that load [kN] is no test, or cannot be on these slips; ``None`` where it can.

    Where the site has entered what its inspection left of the pipe, its crush limit is the most; else what no hand
    slips are made for.
    """
    least = desk.catalogue.site.gear_rules.least_load_kn
    if load_kn < least:
        return BadInput("gear-load", least=least, klbf=_klbf(least))
    if load_kn > MOST_LOAD_KN:
        return BadInput("gear-load-most", most=MOST_LOAD_KN, klbf=_klbf(MOST_LOAD_KN))
    limit = _crush_limit_kn(desk, slips)
    if limit is not None and load_kn > limit:
        return BadInput("gear-load-crush", most=f"{limit:.0f}", klbf=_klbf(limit))
    return None


def _crush_limit_kn(desk: Desk, slips: str) -> float | None:
    """Load at which the inspected pipe starts to crush in that set [kN]; ``None`` where the site's figures lack it."""
    rig = desk.catalogue.site.rig
    if rig is None or slips not in rig.slips:
        return None
    limit = worn_crush_limit(rig.pipe, rig.slips[slips].contact_length, rig.friction)
    return None if limit is None else limit / 1000.0


def _klbf(load_kn: float) -> str:
    """The same load [kN] as a rig with US units reads it."""
    return f"{from_si(load_kn * 1000.0, 'klbf', Kind.FORCE):.1f}"


def advice(desk: Desk, slips: str, bowl: str, reading: Reading, but: str = "") -> NextStep:
    """What to do after that reading; the second of a pair where another set's last test in that bowl was not full.

    ``but`` is a record that is left out of what went before: the one that this reading wrote already.
    """
    first: Event | None = None
    for each in _events(desk):
        if each.what is What.TEST and each.bowl == bowl and each.outcome != "no record" and each.record_id != but:
            # A second set settles what the first began; whatever comes after it starts afresh.
            is_pair = first is not None and first.gear != each.gear
            first = None if is_pair or each.outcome == "full" else each
    if first is not None and first.gear != slips:
        return next_step(cast("Verdict", first.outcome), reading)
    return next_step(reading)


def _what(written: str) -> What:
    try:
        return What(written)
    except ValueError:
        raise BadInput("gear-what", what=written) from None


def _require(desk: Desk, gear: str, day: date, kind: str) -> None:
    item = desk.catalogue.site.gear.get(gear)
    if item is None or kind not in ("", item.kind):
        raise BadInput("gear-unknown", gear=gear)
    if day > desk.today:
        raise BadInput("gear-future")


def _require_count(outcome: str, figures: Mapping[str, str]) -> None:
    """Dies out and dies in must both be counted; what is missing makes it ``count-short``."""
    taken, put = (number(figures.get(name, "")) for name in ("dies_out", "dies_in"))
    if min(taken, put) < 1 or taken.denominator != 1 or put.denominator != 1:
        raise BadInput("gear-count")
    if max(taken, put) > MOST_DIES:
        raise BadInput("gear-count-most", most=MOST_DIES)
    if (taken == put) != (outcome == "done"):
        raise BadInput("gear-count-outcome")


def _append(desk: Desk, body: Gear, told: str, day: date, record_id: str) -> Record:
    with desk.store.transaction() as transaction:
        there = transaction.record(record_id)
        if there is not None:
            return there
        key = transaction.keep_text(told) if told else None
        kept = Gear(body.gear, body.what, body.outcome, body.figures, key)
        return transaction.append(desk.new_record(kept, day=day, record_id=record_id))


def _records(desk: Desk) -> list[Record]:
    """The site's ``gear`` records that are not voided, in the order in which they count."""
    voids = desk.store.voids()
    found = [each for each in desk.store.records(kinds=("gear",)) if each.record_id not in voids]
    return sorted(found, key=lambda each: (each.day, each.at, each.site, each.seq))


def _events(desk: Desk) -> list[Event]:
    return [_event(each) for each in _records(desk)]


def _event(record: Record) -> Event:
    body = record.body
    assert isinstance(body, Gear)
    figures, load = body.figures, _figure(body, "load_kn")
    taken, put = _figure(body, "dies_out"), _figure(body, "dies_in")
    return Event(
        record_id=record.record_id,
        gear=body.gear,
        what=What(body.what),
        outcome=body.outcome,
        day=record.day,
        by=record.by,
        bowl=figures.get("bowl", ""),
        load_kn=load,
        dies=None if taken is None or put is None else (int(taken), int(put)),
    )


def _figure(body: Gear, name: str) -> float | None:
    """A figure of the record; ``None`` where it has none, or one that is no number."""
    try:
        return float(number(body.figures.get(name, "")))
    except BadInput:
        return None


def _gear_of(body: Gear) -> tuple[str, str]:
    return body.gear, body.figures.get("bowl", "")


def _note_of(record: Record) -> str:
    return record.body.note or "" if isinstance(record.body, Gear) else ""
