"""The US figure beside an SI one in a question, and an answer typed in either: content and marking convert only here.

Content writes ``{length} m ({length_ft} ft)``: the suffix names the US unit that the drawn figure is told in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from trainer.core.units import UNITS

__all__ = ["BESIDE", "Pair", "beside", "pair_of", "rounded"]


@dataclass(frozen=True, slots=True)
class Pair:
    """An SI unit and the US one beside it; ``size`` is one US unit in the SI one, exactly."""

    si: str
    us: str
    size: Fraction


def _pair(si: str, us: str) -> Pair:
    sizes = {each.name: each.si for each in UNITS}
    return Pair(si, us, sizes[us] / sizes[si])


BESIDE: Mapping[str, Pair] = MappingProxyType(
    {
        "lb": _pair("kg", "lb"),
        "klb": _pair("t", "klb"),
        "ft": _pair("m", "ft"),
        "in": _pair("mm", "in"),
        "klbf": _pair("kN", "klbf"),
        "ppg": _pair("kg/m³", "lb/gal"),
        "lbft": _pair("kg/m", "lb/ft"),
        "fts": _pair("m/s", "ft/s"),
    }
)
"""Each pair by the suffix that content writes."""


def pair_of(si: str) -> Pair | None:
    """The pair of the SI unit called ``si``, ``None`` where no US unit stands beside it."""
    return next((each for each in BESIDE.values() if each.si == si), None)


def beside(value: str, pair: Pair) -> str:
    """``value``, a decimal string in the SI unit, as it is written in the US one."""
    return rounded(Fraction(value) / pair.size)


def rounded(value: Fraction) -> str:
    """``value`` to three figures, all figures before the point kept.

    >>> [rounded(Fraction(each)) for each in ("9842.5", "66.14", "0.03937", "10.014")]
    ['9842', '66.1', '0.0394', '10']
    """
    places = 0
    while places < 4 and abs(value) * 10**places < 100:
        places += 1
    text = f"{float(round(value, places)):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
