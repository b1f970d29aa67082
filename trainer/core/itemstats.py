"""How items and observers behave: small-sample statistics that say ``None`` rather than mislead.

Rows are people, columns items, values 0 to 1, NaN where an item was not administered (never 0). Only first attempts at
an item *version* belong here. Where a person did not have every item, totals are means over the items that he had, so
that a missing item is never counted as wrong; with complete data that changes the scale only. ``alpha`` and ``sem``
take the people who had every item.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, sqrt
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
from scipy import special

from trainer.core.passcurve import pass_probability, repeat_probability

__all__ = [
    "BLANK",
    "Interval",
    "OptionRow",
    "Scores",
    "ac1",
    "alpha",
    "alpha_interval",
    "clean_run_bound",
    "difficulty",
    "discrimination",
    "item_rest",
    "kappa",
    "option_table",
    "pass_probability",
    "repeat_probability",
    "sem",
    "wilson",
]

Scores: TypeAlias = npt.ArrayLike
"""(people, items), 0 to 1, NaN for not administered."""

Interval: TypeAlias = tuple[float, float]

_Floats: TypeAlias = npt.NDArray[np.float64]

BLANK = "blank"
"""The row of an option table for those who chose nothing."""

_GROUP = 0.27
_ALPHA_TAIL = 0.025
# Sums of the same parts in another order differ by this little; it is no difference between two people.
_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class OptionRow:
    """How often one option was chosen, by people of which rest score; ``r`` is Pearson(chose it, rest)."""

    option: str
    is_key: bool
    count: int
    share: float | None
    interval: Interval | None
    mean_rest: float | None
    r: float | None


def _table(scores: Scores) -> _Floats:
    table = np.asarray(scores, dtype=np.float64)
    if table.ndim != 2:
        raise ValueError("scores have people as rows and items as columns")
    return table


def difficulty(scores: Scores) -> list[float | None]:
    """The mean of each column over those who had the item; ``None`` where nobody had it."""
    return [_mean(column[~np.isnan(column)]) for column in _table(scores).T]


def _mean(values: _Floats) -> float | None:
    return float(values.mean()) if values.size else None


def wilson(right: float, n: int, z: float = 1.959964) -> Interval | None:
    """Wilson's score interval for ``right`` of ``n``: low exactly 0 at none, high exactly 1 at all; ``None`` at 0."""
    if n == 0:
        return None
    share = right / n
    middle = share + z * z / (2 * n)
    half = z * sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    scale = 1 + z * z / n
    low = 0.0 if right == 0 else max(0.0, (middle - half) / scale)
    high = 1.0 if right == n else min(1.0, (middle + half) / scale)
    return low, high


def item_rest(scores: Scores) -> list[float | None]:
    """Pearson's r of each item with the person's score on the rest; ``None`` below 3 people or without variance."""
    table = _table(scores)
    return [_pearson(table[:, item], _row_means(np.delete(table, item, axis=1))) for item in range(table.shape[1])]


def _row_means(table: _Floats) -> _Floats:
    """Each person's mean over the items that he had, NaN where he had none."""
    had = (~np.isnan(table)).sum(axis=1)
    return np.where(had > 0, np.nansum(table, axis=1) / np.maximum(had, 1), np.nan)


def _pearson(one: _Floats, other: _Floats) -> float | None:
    both = ~(np.isnan(one) | np.isnan(other))
    if both.sum() < 3:
        return None
    a, b = one[both] - one[both].mean(), other[both] - other[both].mean()
    if np.abs(a).max() < _HAIR or np.abs(b).max() < _HAIR:
        return None
    return float(np.clip((a @ b) / sqrt(float(a @ a) * float(b @ b)), -1.0, 1.0))


def discrimination(scores: Scores) -> list[float | None]:
    """The mean of each item in the top group less that in the bottom group; ``None`` below 4 people who had it.

    A group is the ``max(1, floor(.27 n + .5))`` people with the highest or lowest total. People who tie at its edge
    share the places that are left, so that the order of the rows cannot matter.
    """
    table = _table(scores)
    totals = _row_means(table)
    return [_top_less_bottom(column, totals) for column in table.T]


def _top_less_bottom(column: _Floats, totals: _Floats) -> float | None:
    had = ~np.isnan(column)
    n = int(had.sum())
    if n < 4:
        return None
    size = max(1, floor(_GROUP * n + 0.5))
    values, ranking = column[had], np.round(totals[had], 9)
    top, bottom = _top_weights(ranking, size), _top_weights(-ranking, size)
    return float(((top - bottom) @ values) / size)


def _top_weights(ranking: _Floats, size: int) -> _Floats:
    """How much of a place in the top ``size`` each person has: 1, 0, or a share where people tie at the edge."""
    edge = np.sort(ranking)[::-1][size - 1]
    above, level = ranking > edge, ranking == edge
    share = (size - int(above.sum())) / int(level.sum())
    return np.where(above, 1.0, np.where(level, share, 0.0))


def _complete(scores: Scores) -> _Floats:
    table = _table(scores)
    return table[~np.isnan(table).any(axis=1)]


def alpha(scores: Scores) -> float | None:
    """Cronbach's alpha, possibly negative; ``None`` below 2 items or 2 people, or where all totals are alike."""
    table = _complete(scores)
    people, items = len(table), table.shape[1]
    if items < 2 or people < 2:
        return None
    total = float(table.sum(axis=1).var(ddof=1))
    if total < _HAIR**2:
        return None
    return float(items / (items - 1) * (1 - float(table.var(axis=0, ddof=1).sum()) / total))


def alpha_interval(alpha: float | None, n: int, k: int) -> Interval | None:
    """Feldt's 95 % interval for alpha from ``n`` people and ``k`` items; ``None`` below 3 people or without alpha."""
    if alpha is None or n < 3 or k < 2:
        return None
    first, second = n - 1, (n - 1) * (k - 1)
    upper, lower = (float(special.fdtri(first, second, share)) for share in (1 - _ALPHA_TAIL, _ALPHA_TAIL))
    return 1 - (1 - alpha) * upper, 1 - (1 - alpha) * lower


def sem(scores: Scores) -> float | None:
    """The standard error of measurement in points, ``sd * sqrt(1 - alpha)``; ``None`` where alpha is."""
    reliability = alpha(scores)
    if reliability is None:
        return None
    return float(_complete(scores).sum(axis=1).std(ddof=1)) * sqrt(1 - reliability)


def option_table(choices: Sequence[str | None], key: str, rest: Sequence[float]) -> list[OptionRow]:
    """One row an option, the key first, then by id, ``blank`` last; ``choices`` and ``rest`` go by person.

    The key and ``blank`` have a row even when nobody chose them.
    """
    chosen = [choice or BLANK for choice in choices]
    if len(chosen) != len(rest):
        raise ValueError("as many choices as rest scores")
    others = sorted(set(chosen) - {key, BLANK})
    return [_option_row(option, option == key, chosen, np.asarray(rest, float)) for option in (key, *others, BLANK)]


def _option_row(option: str, is_key: bool, chosen: list[str], rest: _Floats) -> OptionRow:
    took = np.array([each == option for each in chosen], dtype=bool)
    count = int(took.sum())
    share = count / len(chosen) if chosen else None
    known = rest[took][~np.isnan(rest[took])]
    interval = wilson(count, len(chosen))
    return OptionRow(option, is_key, count, share, interval, _mean(known), _pearson(took.astype(float), rest))


def _shares(table: npt.ArrayLike) -> _Floats | None:
    """The square table of two observers' judgements as shares of all; ``None`` where there are none."""
    counts = np.asarray(table, dtype=np.float64)
    if counts.ndim != 2 or counts.shape[0] != counts.shape[1]:
        raise ValueError("as many rows as columns: the same judgements by both observers")
    total = float(counts.sum())
    return counts / total if total > 0 else None


def _beyond_chance(agreed: float, chance: float) -> float | None:
    return (agreed - chance) / (1 - chance) if chance < 1 - _HAIR else None


def kappa(table: npt.ArrayLike) -> float | None:
    """Cohen's kappa of two observers; ``None`` without judgements or where chance alone agrees always.

    It drops where one judgement is common, which it is on the floor: show it small, beside ``ac1``.
    """
    shares = _shares(table)
    if shares is None:
        return None
    return _beyond_chance(float(np.trace(shares)), float(shares.sum(axis=1) @ shares.sum(axis=0)))


def ac1(table: npt.ArrayLike) -> float | None:
    """Gwet's AC1 (2008) of two observers; ``None`` without judgements or with fewer than two kinds of them."""
    shares = _shares(table)
    if shares is None or len(shares) < 2:
        return None
    common = (shares.sum(axis=1) + shares.sum(axis=0)) / 2
    chance = float((common * (1 - common)).sum()) / (len(shares) - 1)
    return _beyond_chance(float(np.trace(shares)), chance)


def clean_run_bound(n: int, confidence: float = 0.95) -> float | None:
    """The least chance of a clean watch that ``n`` clean ones of ``n`` support; ``None`` at n = 0."""
    return (1 - confidence) ** (1 / n) if n > 0 else None
