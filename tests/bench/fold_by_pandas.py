"""The same fold as it would be written with pandas: frames, groupby, joins. The baseline, and a second opinion."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from graphlib import TopologicalSorter
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from trainer.core.catalogue import Catalogue, Competency, Rotation
from trainer.core.columns import EFFECTS, PARTS, EvidenceColumns, StayColumns
from trainer.core.durations import Duration, after_each, before_each
from trainer.core.matrix import ARRANGE, RULES, STANDINGS, Matrix, Reasons, Rule, Standing
from trainer.core.records import Effect, Part
from trainer.core.roster import Roster, roster

__all__ = ["fold"]

CELL = ["competency", "hand"]
FAR = date.max.toordinal()
LEARNING = (Rule.MORE, Rule.AGAIN, Rule.NEVER, Rule.AFTER)


def fold(catalogue: Catalogue, evidence: EvidenceColumns, stays: StayColumns, as_of: date) -> Matrix:
    """The matrix, cell by cell the same as ``trainer.core.standing.fold`` gives."""
    on = roster(catalogue.site, catalogue.competencies, stays, as_of)
    cells = _cells(catalogue, on)
    rows = _rows(catalogue, evidence, on, as_of)
    cells = _with_facts(catalogue, cells, rows)
    cells = _with_due(catalogue, cells, on, evidence, as_of)
    return _matrix(catalogue, cells, on, evidence, as_of)


def _cells(catalogue: Catalogue, on: Roster) -> pd.DataFrame:
    """One line a competency and hand, by their places in the catalogue and on the roster."""
    index = pd.MultiIndex.from_product([range(len(catalogue.competencies)), range(len(on.hands))], names=CELL)
    return pd.DataFrame({"joined": on.start.ravel()}, index=index)


def _rows(catalogue: Catalogue, evidence: EvidenceColumns, on: Roster, as_of: date) -> pd.DataFrame:
    """The evidence that counts on the day, of the hands on the roster."""
    line = {each.id: place for place, each in enumerate(catalogue.competencies)}
    column = {hand: place for place, hand in enumerate(on.hands)}
    frame = pd.DataFrame(
        {
            "competency": np.array([line.get(each, -1) for each in evidence.competencies])[evidence.competency],
            "hand": np.array([column.get(each, -1) for each in evidence.hands])[evidence.hand],
            "part": evidence.part,
            "effect": evidence.effect,
            "day": evidence.day,
            "by": evidence.by,
            "row": np.arange(len(evidence)),
        }
    )
    return frame[(frame["day"] <= as_of.toordinal()) & (frame["competency"] >= 0) & (frame["hand"] >= 0)]


def _last(rows: pd.DataFrame) -> pd.Series[int]:
    return rows.groupby(CELL)["row"].max()


def _with_facts(catalogue: Catalogue, cells: pd.DataFrame, rows: pd.DataFrame) -> pd.DataFrame:
    """Through which day each part holds, and by which row."""
    effect = {each: rows["effect"] == EFFECTS.index(each) for each in Effect}
    passes = rows[effect[Effect.PASS] & (rows["part"] != PARTS.index(Part.NONE))]
    cells["down"] = _last(rows[effect[Effect.DOWN]])
    cells["up"] = _last(rows[effect[Effect.UP]])
    cells["ever"] = _last(passes)
    cells = cells.fillna({"down": -1, "up": -1, "ever": -1})
    cells.loc[(cells["up"] < cells["down"]) | (cells["down"] < 0), "up"] = -1
    passes = passes.join(cells[["down"]], on=CELL)
    passes = passes[passes["row"] > passes["down"]]
    of = {part: passes[passes["part"] == PARTS.index(part)] for part in Part}
    for part in (Part.KNOWLEDGE, Part.PRACTICAL, Part.OUTSIDE_KNOWLEDGE, Part.OUTSIDE_PRACTICAL):
        last = of[part].groupby(CELL)[["row", "day"]].max()
        cells[f"{part}-row"], cells[f"{part}-day"] = last["row"], last["day"]
    cells = cells.fillna(dict.fromkeys([each for each in cells if each.endswith("-row")], -1)).fillna(0)
    cells = _with_knowledge(catalogue, cells, of[Part.TAILGATE])
    return _with_practical(catalogue, cells, of[Part.PRACTICAL])


def _with_knowledge(catalogue: Catalogue, cells: pd.DataFrame, talks: pd.DataFrame) -> pd.DataFrame:
    need = [each.needs.knowledge for each in catalogue.competencies]
    quiz = cells["knowledge-day"]
    cells["quiz-through"] = _moved(quiz, [each.good_for if each else None for each in need])
    talks = talks.join(cells[["knowledge-day", "quiz-through"]], on=CELL)
    talks = talks[(talks["day"] >= talks["knowledge-day"]) & (talks["day"] <= talks["quiz-through"])]
    last = talks.groupby(CELL)[["row", "day"]].max()
    cells["talk-row"], cells["talk-day"] = last["row"], last["day"]
    cells = cells.fillna({"talk-row": -1, "talk-day": 0})
    extended = _moved(cells["talk-day"], [each.tailgate_extends if each else None for each in need])
    cap = _moved(quiz, [each.at_most if each else None for each in need])
    extended = extended.where(cap == 0, np.minimum(extended, cap))
    through = np.maximum(cells["quiz-through"], extended)
    row = cells["talk-row"].where(extended > cells["quiz-through"], cells["knowledge-row"])
    return _or_outside(catalogue, cells, "knowledge", through, row, [each is not None for each in need])


def _with_practical(catalogue: Catalogue, cells: pd.DataFrame, watches: pd.DataFrame) -> pd.DataFrame:
    need = [each.needs.practical for each in catalogue.competencies]
    different = watches.groupby(CELL)[["day", "by"]].nunique()
    cells["days"], cells["people"] = different["day"], different["by"]
    cells = cells.fillna({"days": 0, "people": 0})
    line = cells.index.get_level_values("competency")
    days = np.array([each.first if each else 1 for each in need])[line]
    people = np.array([each.assessors if each else 1 for each in need])[line]
    through = _moved(cells["practical-day"], [each.good_for if each else None for each in need])
    through = through.where((cells["days"] >= days) & (cells["people"] >= people), 0)
    return _or_outside(
        catalogue, cells, "practical", through, cells["practical-row"], [each is not None for each in need]
    )


def _or_outside(
    catalogue: Catalogue,
    cells: pd.DataFrame,
    part: str,
    through: pd.Series[Any],
    row: pd.Series[Any],
    is_needed: list[bool],
) -> pd.DataFrame:
    good_for = catalogue.site.outside_good_for
    outside = _moved(cells[f"outside-{part}-day"], [good_for if each else None for each in is_needed])
    cells[f"{part}-through"] = np.maximum(through, outside)
    cells[f"{part}-rests"] = cells[f"outside-{part}-row"].where(outside > through, row)
    return cells


def _moved(
    days: pd.Series[Any],
    durations: list[Duration | None],
    move: Callable[[npt.NDArray[np.int32], Duration], npt.NDArray[np.int32]] = after_each,
) -> pd.Series[Any]:
    """Each competency's days moved by its own duration, each different day once; 0 where it has none."""
    moved = pd.Series(0, index=days.index)
    line = days.index.get_level_values("competency")
    for each in {each for each in durations if each is not None}:
        is_own = np.isin(line, [place for place, duration in enumerate(durations) if duration == each])
        codes, found = pd.factorize(days[is_own])
        moved[is_own] = move(np.asarray(found, dtype=np.int32), each)[codes]
    return moved


def _with_due(
    catalogue: Catalogue, cells: pd.DataFrame, on: Roster, evidence: EvidenceColumns, as_of: date
) -> pd.DataFrame:
    """Due dates and what follows from them."""
    known, today = catalogue.competencies, as_of.toordinal()
    line = cells.index.get_level_values("competency")
    parts = {part: np.array([getattr(each.needs, part) is not None for each in known])[line] for part in _BOTH}
    for part, is_needed in parts.items():
        cells[f"lacks-{part}"] = is_needed & (cells[f"{part}-through"] == 0)
        cells[f"first-{part}"] = cells[f"{part}-through"].where(is_needed, FAR)
    first = cells[["first-knowledge", "first-practical"]].min(axis=1)
    cells["earliest"] = first.where(parts["knowledge"] | parts["practical"], 0)
    cells["practical-first"] = parts["practical"] & (
        ~parts["knowledge"] | (cells["first-practical"] < cells["first-knowledge"])
    )
    cells["is-down"] = (cells["down"] >= 0) & (cells["up"] < 0)
    cells["lacks"] = cells["lacks-knowledge"] | cells["lacks-practical"]
    up = np.append(evidence.day, 0)[cells["up"].to_numpy(dtype=np.intp)]
    within = _moved(pd.Series(np.maximum(cells["joined"], up), index=cells.index), [each.within for each in known])
    cells["due"] = cells["earliest"].where(~cells["lacks"], within).where(~cells["is-down"], 0)
    cells["late"] = (cells["due"] > 0) & (cells["due"] < today)
    cells["noticed"] = (cells["due"] > 0) & (
        _moved(cells["due"], [each.notice for each in known], before_each) <= today
    )
    return _with_do_by(catalogue, cells, on, today)


_BOTH = ("knowledge", "practical")


def _with_do_by(catalogue: Catalogue, cells: pd.DataFrame, on: Roster, today: int) -> pd.DataFrame:
    cells["crew"] = np.array(on.crews, dtype=object)[cells.index.get_level_values("hand")]
    cells["do-by"], cells["last-hitch"] = 0, False
    for crew, own in cells.groupby("crew"):
        rotation, due = catalogue.site.crews.get(str(crew), Rotation()), own["due"]
        do_by, is_last = due, pd.Series(False, index=due.index)
        if rotation.start is not None:
            start, period = rotation.start.toordinal(), rotation.on + rotation.off
            into = (due - start) % period
            do_by = due - (into - (rotation.on - 2)).clip(lower=0)
            is_last = (do_by - start) // period == (today - start) // period
        is_left = (do_by >= today) & (rotation.start is None or rotation.on >= 2)
        cells.loc[own.index, "do-by"] = do_by.where(is_left, ARRANGE).where(due > 0, 0)
        cells.loc[own.index, "last-hitch"] = is_last & is_left & (due > 0)
    return cells


def _matrix(catalogue: Catalogue, cells: pd.DataFrame, on: Roster, evidence: EvidenceColumns, as_of: date) -> Matrix:
    """The rules in their order, and the matrix made of what they say."""
    known, shape = catalogue.competencies, (len(catalogue.competencies), len(on.hands))
    is_untried = cells["ever"] < 0
    stops = (cells["is-down"] | is_untried | cells["lacks"]).to_numpy().reshape(shape)
    blocker = _blockers(known, stops).ravel()
    more = cells["lacks-practical"] & ~cells["lacks-knowledge"] & (cells["practical-row"] >= 0)
    tried = [
        (Rule.STOOD_DOWN, cells["is-down"]),
        (Rule.NOTHING, is_untried),
        (Rule.MORE, more),
        (Rule.AGAIN, cells["lacks"] & (cells["up"] >= 0)),
        (Rule.NEVER, cells["lacks"]),
        (Rule.AFTER, blocker >= 0),
        (Rule.EXPIRED, cells["late"]),
        (Rule.NO_HITCH, cells["do-by"] == ARRANGE),
        (Rule.LAST_HITCH, cells["last-hitch"]),
        (Rule.NOTICE, cells["noticed"]),
    ]
    rule = np.select([flag for _, flag in tried], [RULES.index(each) for each, _ in tried], RULES.index(Rule.HOLDS))
    part = np.select(
        [cells["is-down"] | is_untried, cells["lacks-knowledge"], cells["lacks-practical"], blocker >= 0,
         cells["practical-first"], cells["earliest"] == 0],
        [0, 1, 2, 3 + blocker, 2, 0],
        1,
    )  # fmt: skip
    row = np.select(
        [cells["is-down"], is_untried, more, cells["lacks"], blocker >= 0, cells["practical-first"],
         cells["earliest"] == 0],
        [cells["down"], -1, cells["practical-row"], cells["up"], -1, cells["practical-rests"], -1],
        cells["knowledge-rests"],
    ).astype(np.intp)  # fmt: skip
    standing = np.array([STANDINGS.index(_standing(each)) for each in RULES])[rule]
    return Matrix(
        as_of=as_of,
        hands=on.hands,
        crews=on.crews,
        positions=on.positions,
        competencies=tuple(each.id for each in known),
        needed=on.needed,
        standing=standing.reshape(shape).astype(np.int8),
        due=cells["due"].to_numpy(dtype=np.int32).reshape(shape),
        do_by=cells["do-by"].to_numpy(dtype=np.int32).reshape(shape),
        late=cells["late"].to_numpy().reshape(shape),
        reasons=Reasons(
            rule=rule.reshape(shape).astype(np.int8),
            part=part.reshape(shape).astype(np.int16),
            parts=("", *_BOTH, *(each.id for each in known)),
            record=evidence.record[row].reshape(shape),
            day=np.append(evidence.day, 0)[row].astype(np.int32).reshape(shape),
        ),
    )


def _standing(rule: Rule) -> Standing:
    if rule in LEARNING:
        return Standing.LEARNING
    named = {
        Rule.STOOD_DOWN: Standing.STOOD_DOWN,
        Rule.NOTHING: Standing.NOT_STARTED,
        Rule.EXPIRED: Standing.OVERDUE,
        Rule.HOLDS: Standing.CURRENT,
    }
    return named.get(rule, Standing.DUE)


def _blockers(known: tuple[Competency, ...], stops: npt.NDArray[np.bool_]) -> npt.NDArray[np.int64]:
    line_of = {each.id: line for line, each in enumerate(known)}
    stops, blocker = stops.copy(), np.full(stops.shape, -1)
    for name in TopologicalSorter({each.id: each.after for each in known}).static_order():
        line = line_of[name]
        for before in reversed(known[line].after):
            blocker[line] = np.where(stops[line_of[before]], line_of[before], blocker[line])
        stops[line] |= blocker[line] >= 0
    return blocker
