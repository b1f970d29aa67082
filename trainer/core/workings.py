"""The named sums that a question to work out may ask for, and the sums that its commonest mistakes amount to.

Arguments and results are in the units that a question is put in: tonnes, metres, kg/m, kg/m³. The physics stands in
``trainer.mechanics``; here are names and units only. Add a sum by adding a function and its line in ``FUNCTIONS``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.mechanics import TEST_MARGIN, buoyancy_factor

__all__ = ["FUNCTIONS"]

_KG_PER_TONNE = 1000.0


def load_on_slips(indicator: float, block: float) -> float:
    """What the slips carry [t]: the indicator's reading less the block and what hangs on it."""
    return indicator - block


def indicator_alone(indicator: float, block: float) -> float:  # noqa: ARG001 - forgetting the block is the mistake
    """The mistake of taking the indicator's reading for the load on the slips [t]."""
    return indicator


def indicator_and_block(indicator: float, block: float) -> float:
    """The mistake of adding the block instead of taking it off [t]."""
    return indicator + block


def weight_in_mud(length: float, per_metre: float, mud: float) -> float:
    """What ``length`` [m] of pipe of ``per_metre`` [kg/m] weighs in mud of ``mud`` [kg/m³], in t."""
    return weight_in_air(length, per_metre, mud) * float(buoyancy_factor(mud))


def weight_in_air(length: float, per_metre: float, mud: float) -> float:  # noqa: ARG001 - and so is forgetting the mud
    """The mistake of leaving the mud out [t]."""
    return length * per_metre / _KG_PER_TONNE


def limit_with_margin(limit: float) -> float:
    """The load to stay under when the calculated crush limit is ``limit``, in the same unit."""
    return limit / TEST_MARGIN


def limit_without_margin(limit: float) -> float:
    """The mistake of taking the calculated limit itself."""
    return limit


def limit_times_margin(limit: float) -> float:
    """The mistake of multiplying where the margin divides."""
    return limit * TEST_MARGIN


FUNCTIONS: Mapping[str, Callable[..., float]] = MappingProxyType(
    {
        "load-on-slips": load_on_slips,
        "indicator-alone": indicator_alone,
        "indicator-and-block": indicator_and_block,
        "weight-in-mud": weight_in_mud,
        "weight-in-air": weight_in_air,
        "limit-with-margin": limit_with_margin,
        "limit-without-margin": limit_without_margin,
        "limit-times-margin": limit_times_margin,
    }
)
"""Every sum by the name that content gives it."""
