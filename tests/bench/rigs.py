"""Made-up evidence of any size, as columns, under the project's own competencies: what the fold is timed on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt

from trainer import curriculum, settings
from trainer.core.catalogue import Catalogue, Rotation
from trainer.core.columns import EFFECTS, JOINED, MOVED, PARTS, EvidenceColumns, StayColumns, indexed
from trainer.core.records import Effect, Part

__all__ = ["AS_OF", "CREWS", "catalogue", "evidence", "hand_names", "stays"]

AS_OF = date(2026, 6, 1)
CREWS = 40
COMPETENCIES = 12
_OBSERVERS = 500
_YEARS_BACK = 5 * 365
_POSITIONS = ("floorhand", "motorhand", "derrickhand", "driller")

_SHARES = {Part.KNOWLEDGE: 0.35, Part.TAILGATE: 0.3, Part.PRACTICAL: 0.3, Part.OUTSIDE_KNOWLEDGE: 0.03,
           Part.OUTSIDE_PRACTICAL: 0.02}  # fmt: skip
"""How much of the evidence is about each part."""


@cache
def catalogue() -> Catalogue:
    """The first twelve competencies of content/, on a site with forty crews whose hitches start on different days."""
    where = settings.read().app_root
    loaded = curriculum.load(where, where)
    made = curriculum.catalogue(loaded, curriculum.site_from(loaded.site_data))
    crews = {name: Rotation(AS_OF - timedelta(days=7 * place), 14, 14) for place, name in enumerate(_crew_names())}
    return replace(made, competencies=made.competencies[:COMPETENCIES], site=replace(made.site, crews=crews))


def evidence(rows: int, hands: int, known: Catalogue, seed: int = 1) -> EvidenceColumns:
    """That much evidence of five years up to a month after the as-of day: a tenth of it fails, a hundredth stands a
    hand down or brings him back, the rest passes some part."""
    random = np.random.default_rng(seed)
    effect = _drawn(random, rows, {Effect.PASS: 0.89, Effect.FAIL: 0.1, Effect.DOWN: 0.006, Effect.UP: 0.004}, EFFECTS)
    part = _drawn(random, rows, _SHARES, PARTS)
    part[effect >= EFFECTS.index(Effect.DOWN)] = PARTS.index(Part.NONE)
    hand = np.sort(random.integers(0, hands, rows, dtype=np.int32))
    day = _rising(random.integers(AS_OF.toordinal() - _YEARS_BACK, AS_OF.toordinal() + 30, rows), hand)
    return indexed(
        EvidenceColumns(
            hands=hand_names(hands),
            competencies=tuple(sorted(each.id for each in known.competencies)),
            people=hand_names(_OBSERVERS),
            sites=("rig",),
            hand=hand,
            competency=random.integers(0, len(known.competencies), rows, dtype=np.int32),
            part=part,
            effect=effect,
            day=day,
            by=random.integers(0, _OBSERVERS, rows, dtype=np.int32),
            at=day.astype(np.int64) * 86_400_000,
            site=np.zeros(rows, dtype=np.int32),
            seq=np.arange(1, rows + 1, dtype=np.int64),
            record=np.frombuffer(random.bytes(16 * rows), dtype="V16").copy(),
            hand_starts=np.zeros(0, dtype=np.int32),
        )
    )


def stays(hands: int, seed: int = 2) -> StayColumns:
    """Everybody joined in those five years, half of them moved to another position since."""
    random = np.random.default_rng(seed)
    moved = np.sort(random.permutation(hands)[: hands // 2])
    hand = np.sort(np.concatenate((np.arange(hands), moved))).astype(np.int32)
    is_move = np.concatenate(([False], hand[1:] == hand[:-1]))
    rows = len(hand)
    early = random.integers(AS_OF.toordinal() - _YEARS_BACK, AS_OF.toordinal() - 400, rows)
    day = np.where(is_move, random.integers(AS_OF.toordinal() - 399, AS_OF.toordinal(), rows), early).astype(np.int32)
    return indexed(
        StayColumns(
            hands=hand_names(hands),
            crews=tuple(_crew_names()),
            positions=tuple(sorted(_POSITIONS)),
            sites=("rig",),
            hand=hand,
            kind=np.where(is_move, MOVED, JOINED).astype(np.int8),
            day=day,
            crew=random.integers(0, CREWS, rows, dtype=np.int32),
            position=random.integers(0, len(_POSITIONS), rows, dtype=np.int32),
            at=day.astype(np.int64) * 86_400_000,
            site=np.zeros(rows, dtype=np.int32),
            seq=np.arange(1, rows + 1, dtype=np.int64),
            record=np.frombuffer(random.bytes(16 * rows), dtype="V16").copy(),
            hand_starts=np.zeros(0, dtype=np.int32),
        )
    )


def hand_names(count: int) -> tuple[str, ...]:
    """So many hand_ids, in order."""
    return tuple(f"h{number:05}" for number in range(count))


def _crew_names() -> list[str]:
    return [f"crew-{number:02}" for number in range(CREWS)]


def _rising(days: npt.NDArray[np.int64], hand: npt.NDArray[np.int32]) -> npt.NDArray[np.int32]:
    """The same days in rising order within each hand; ``hand`` rises."""
    key = np.sort((hand.astype(np.int64) << 32) | days)
    return (key & 0xFFFF_FFFF).astype(np.int32)


def _drawn(
    random: np.random.Generator, rows: int, shares: Mapping[Any, float], table: Sequence[Any]
) -> npt.NDArray[np.int8]:
    """A code of ``table`` for each row, drawn by ``shares``."""
    codes = np.array([table.index(each) for each in shares], dtype=np.int8)
    return codes[random.choice(len(codes), rows, p=list(shares.values()))]
