"""The rows that the matrix reads, worked out from one record: pure, so that verify can work them out again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from trainer.core.records import (
    Effect,
    EvidenceRow,
    Joined,
    Left,
    Moved,
    Observation,
    Outside,
    Part,
    QuizTaken,
    Record,
    Reinstated,
    StayRow,
    StoodDown,
    Tailgate,
    Void,
)

__all__ = ["Projected", "project", "rows_of", "stay_of", "voided_by"]

_Told = tuple[str, Part, Effect, str]  # competency, part, effect, by


def rows_of(record: Record, at: str | None = None) -> list[EvidenceRow]:
    """The evidence rows that ``record`` gives, none for a kind that is not evidence.

    ``at`` is the record's time, or the latest before it in its chain where that is later; its own when not given.
    """
    if record.hand is None:
        return []
    counted = at or record.at
    return [
        EvidenceRow(record.hand, name, part, effect, record.day, counted, record.site, record.seq, by, record.record_id)
        for name, part, effect, by in _told(record, record.hand)
    ]


def _told(record: Record, hand: str) -> Iterable[_Told]:
    match record.body:
        case QuizTaken() as body:
            return [(body.competency, Part.KNOWLEDGE, _effect(body.passed), hand)]
        case Tailgate() as body:
            return [(body.competency, Part.TAILGATE, _effect(body.passed), body.vouched)]
        case Observation(purpose="assessment") as body:
            return [
                (name, Part.PRACTICAL, _effect(outcome == "clean"), body.observer)
                for name, outcome in sorted(body.outcomes.items())
            ]
        case Outside() as body:
            return [(body.competency, Part(body.part), Effect(body.outcome), body.observer)]
        case StoodDown() as body:
            return [(body.competency, Part.NONE, Effect.DOWN, body.observer or record.by)]
        case Reinstated() as body:
            return [(body.competency, Part.NONE, Effect.UP, body.observer or record.by)]
    return []


def _effect(is_pass: bool) -> Effect:
    return Effect.PASS if is_pass else Effect.FAIL


def stay_of(record: Record, at: str | None = None) -> StayRow | None:
    """The stay row that a joined, moved or left gives; ``None`` for any other kind. ``at`` as above."""
    if record.hand is None or not isinstance(record.body, Joined | Moved | Left):
        return None
    crew, position = ("", "") if isinstance(record.body, Left) else (record.body.crew, record.body.position)
    counted = at or record.at
    return StayRow(
        record.hand, record.kind, record.day, crew, position, counted, record.site, record.seq, record.record_id
    )


def voided_by(records: Iterable[Record]) -> Mapping[str, str]:
    """Record id to the id of the void that takes it out, over all ``records`` of all sites.

    A stood-down written with a voided observation goes with it. Of several voids of one record the first one counts.
    """
    known = list(records)
    direct: dict[str, str] = {}
    for record in known:
        if isinstance(record.body, Void):
            direct.setdefault(record.body.record, record.record_id)
    with_it = {
        record.record_id: direct[record.body.observation]
        for record in known
        if isinstance(record.body, StoodDown) and record.body.observation in direct
    }
    return with_it | direct


@dataclass(frozen=True, slots=True)
class Projected:
    """All rows that a ledger gives; ``voids`` maps a record's id to the void that takes it out."""

    evidence: tuple[EvidenceRow, ...]
    stays: tuple[StayRow, ...]
    voids: Mapping[str, Record]


def project(records: Sequence[tuple[Record, str]], forks: Mapping[str, int]) -> Projected:
    """The rows that ``records``, each with the time at which it counts, give together.

    From a site's seq in ``forks`` on nothing of that site counts: two different chains of it are known, and which one
    is right is for people to say.
    """
    counted = [(record, at) for record, at in records if not _is_forked(record, forks)]
    out = voided_by(record for record, _ in counted)
    by_id = {record.record_id: record for record, _ in counted}
    kept = [(record, at) for record, at in counted if record.record_id not in out]
    stays = (stay_of(record, at) for record, at in kept)
    return Projected(
        tuple(row for record, at in kept for row in rows_of(record, at)),
        tuple(stay for stay in stays if stay is not None),
        {record_id: by_id[void_id] for record_id, void_id in out.items()},
    )


def _is_forked(record: Record, forks: Mapping[str, int]) -> bool:
    return record.site in forks and record.seq >= forks[record.site]
