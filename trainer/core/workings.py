"""The named sums that a question to work out may ask for, and the sums that its commonest mistakes amount to.

Arguments and results are in the units that a question is put in: tonnes, kilograms, metres, kg/m, kg/m³. The physics
stands in ``trainer.mechanics``; here are names and units only. Add a sum by adding a function and its line in
``FUNCTIONS``. A mistake takes the arguments of the sum that it stands beside, also those that it leaves out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.mechanics import TEST_MARGIN, buoyancy_factor, handle_shares, recommended_weight
from trainer.mechanics.lifting import LOAD_CONSTANT

__all__ = ["FUNCTIONS"]

_KG_PER_TONNE = 1000.0
_PERCENT = 100.0
_HANDLES = (0.0, 120.0, 240.0)
_RADIUS = 0.3
_MM_PER_M = 1000.0
_NEAREST = 250.0
_BEST = (0.75, 0.25, 0.0, 0.2, 1.0, "good")
"""Height, travel, twist, pace, hours and grip at their best."""


def load_on_slips(indicator: float, block: float) -> float:
    """What the slips carry [t]: the indicator's reading less the block and what hangs on it."""
    return indicator - block


def indicator_alone(indicator: float, block: float) -> float:  # noqa: ARG001 - forgetting the block is the mistake
    """The mistake of taking the indicator's reading for the load on the slips [t]."""
    return indicator


def indicator_and_block(indicator: float, block: float) -> float:
    """The mistake of adding the block instead of taking it off [t]."""
    return indicator + block


def indicator_for(load: float, block: float) -> float:
    """What the indicator must show for ``load`` to be on the slips once they are set [t]: the block hangs on it too."""
    return load + block


def load_as_reading(load: float, block: float) -> float:  # noqa: ARG001 - forgetting the block is the mistake
    """The mistake of waiting for the load itself on the indicator [t]."""
    return load


def load_less_block(load: float, block: float) -> float:
    """The mistake of taking the block off instead of adding it [t]."""
    return load - block


def room_to_limit(indicator: float, block: float, limit: float) -> float:
    """How much more [t] may hang on the slips before the site's ``limit`` is reached.

    >>> room_to_limit(indicator=116.0, block=25.0, limit=95.0)
    4.0
    """
    return limit - load_on_slips(indicator, block)


def room_with_block_on(indicator: float, block: float, limit: float) -> float:  # noqa: ARG001 - the block is forgotten
    """The mistake of setting the whole reading against the limit [t]."""
    return limit - indicator


def load_for_room(indicator: float, block: float, limit: float) -> float:  # noqa: ARG001 - the limit is forgotten
    """The mistake of giving the load itself for what is left to the limit [t]."""
    return load_on_slips(indicator, block)


def load_with_pull(indicator: float, block: float, pull: float) -> float:
    """What the slips carry [t] when they take the string with a ``pull`` held; ``indicator`` is from before the pull.

    >>> load_with_pull(indicator=110.0, block=25.0, pull=20.0)
    105.0
    """
    return load_on_slips(indicator, block) + pull


def load_without_pull(indicator: float, block: float, pull: float) -> float:  # noqa: ARG001 - the pull is forgotten
    """The mistake of leaving the pull out, as if the string still hung free [t]."""
    return load_on_slips(indicator, block)


def pull_alone(indicator: float, block: float, pull: float) -> float:  # noqa: ARG001 - the string is forgotten
    """The mistake of taking the pull for all that the slips carry [t]."""
    return pull


def pull_on_reading(indicator: float, block: float, pull: float) -> float:  # noqa: ARG001 - the block is forgotten
    """The mistake of adding the pull to the whole reading, block and all [t]."""
    return indicator + pull


def weight_in_mud(length: float, per_metre: float, mud: float) -> float:
    """What ``length`` [m] of pipe of ``per_metre`` [kg/m] weighs in mud of ``mud`` [kg/m³], in t."""
    return weight_in_air(length, per_metre, mud) * float(buoyancy_factor(mud))


def weight_in_air(length: float, per_metre: float, mud: float) -> float:  # noqa: ARG001 - and so is forgetting the mud
    """The mistake of leaving the mud out [t]."""
    return length * per_metre / _KG_PER_TONNE


def weight_taken_off(length: float, per_metre: float, mud: float) -> float:
    """The mistake of giving what the mud takes off for what is left [t]."""
    return weight_in_air(length, per_metre, mud) - weight_in_mud(length, per_metre, mud)


def limit_with_margin(limit: float) -> float:
    """The load to stay under when the calculated crush limit is ``limit``, in the same unit."""
    return limit / TEST_MARGIN


def limit_without_margin(limit: float) -> float:
    """The mistake of taking the calculated limit itself."""
    return limit


def limit_times_margin(limit: float) -> float:
    """The mistake of multiplying where the margin divides."""
    return limit * TEST_MARGIN


def load_over_limit(load: float, limit: float) -> float:
    """The load as a share of the limit less its margin [%]."""
    return _PERCENT * load / limit_with_margin(limit)


def load_over_whole_limit(load: float, limit: float) -> float:
    """The mistake of leaving the margin out [%]."""
    return _PERCENT * load / limit


def limit_over_load(load: float, limit: float) -> float:
    """The mistake of dividing the wrong way round [%]."""
    return _PERCENT * limit_with_margin(limit) / load


def share_of_three(mass: float) -> float:
    """What each of three lifts of a set of ``mass``, a handle each, the mass centre in the middle [kg]."""
    return _handle(mass)


def share_with_two_handles(mass: float) -> float:
    """What one of two lifts who has two of the three handles to himself [kg]."""
    return 2 * _handle(mass)


def share_of_two(mass: float) -> float:
    """What each of two lifts, an end handle each and both a hand on the middle one [kg]."""
    return _handle(mass) + _handle(mass) / 2


def whole_set(mass: float) -> float:
    """The mistake of giving the whole set for a share [kg]."""
    return mass


def _handle(mass: float) -> float:
    return float(handle_shares(mass, _HANDLES, _RADIUS)[0])


def _off_centre(mass: float, offset: float, radius: float) -> tuple[float, ...]:
    """What each handle lifts [kg] with the mass centre ``offset`` [mm] toward the first, all at ``radius`` [mm]."""
    shares = handle_shares(mass, _HANDLES, radius / _MM_PER_M, (offset / _MM_PER_M, 0.0))
    return tuple(float(each) for each in shares)


def share_near_centre(mass: float, offset: float, radius: float) -> float:
    """What the handle lifts [kg] toward which the mass centre lies, by ``offset`` [mm], of three at ``radius`` [mm]."""
    return _off_centre(mass, offset, radius)[0]


def share_far_from_centre(mass: float, offset: float, radius: float) -> float:
    """The mistake of giving what one of the other two handles lifts [kg]."""
    return _off_centre(mass, offset, radius)[1]


def even_share(mass: float, offset: float, radius: float) -> float:  # noqa: ARG001 - as if it hung in the middle
    """The mistake of sharing evenly though the mass centre is off the middle [kg]."""
    return mass / len(_HANDLES)


def times_guideline(mass: float, people: float, guideline: float) -> float:
    """The lifting index [-]: how many times the share of one of ``people`` is what the guideline gives him [kg]."""
    return mass / people / guideline


def whole_over_guideline(mass: float, people: float, guideline: float) -> float:  # noqa: ARG001 - nobody shares
    """The mistake of setting the whole set against one person's guideline [-]."""
    return mass / guideline


def guideline_over_share(mass: float, people: float, guideline: float) -> float:
    """The mistake of dividing the wrong way round [-]."""
    return guideline * people / mass


def guideline_at_reach(reach: float) -> float:
    """What the lifting guideline gives one person at ``reach`` [mm] from the ankles, all else at its best [kg]."""
    return recommended_weight(reach / _MM_PER_M, *_BEST)


def guideline_at_best(reach: float) -> float:  # noqa: ARG001 - as if reach did not matter
    """The mistake of taking the best lift's figure [kg]."""
    return LOAD_CONSTANT


def guideline_times_reach(reach: float) -> float:
    """The mistake of multiplying by the distance where the guideline divides [kg]."""
    return LOAD_CONSTANT * reach / _NEAREST


def working_height(limit: float, site: float) -> float:
    """How high the box may stand [m]: the smaller of what the pipe stands and the site's own height."""
    return min(limit, site)


def larger_height(limit: float, site: float) -> float:
    """The mistake of taking the larger one [m]."""
    return max(limit, site)


def height_between(limit: float, site: float) -> float:
    """The mistake of meeting in the middle [m]."""
    return (limit + site) / 2


def contact_left(top: float, middle: float, bottom: float, length: float) -> float:
    """The length that still holds [mm]: the mean print of the thirds [%] of the whole contact ``length`` [mm]."""
    return (top + middle + bottom) / 3 / _PERCENT * length


def whole_contact(top: float, middle: float, bottom: float, length: float) -> float:  # noqa: ARG001 - nothing is lost
    """The mistake of reckoning with the whole length [mm]."""
    return length


def best_third(top: float, middle: float, bottom: float, length: float) -> float:
    """The mistake of taking the best third's print for the whole [mm]."""
    return max(top, middle, bottom) / _PERCENT * length


_NAMED: tuple[Callable[..., float], ...] = (
    load_on_slips, indicator_alone, indicator_and_block, indicator_for, load_as_reading, load_less_block,
    room_to_limit, room_with_block_on, load_for_room,
    load_with_pull, load_without_pull, pull_alone, pull_on_reading,
    weight_in_mud, weight_in_air, weight_taken_off,
    limit_with_margin, limit_without_margin, limit_times_margin,
    load_over_limit, load_over_whole_limit, limit_over_load,
    share_of_three, share_with_two_handles, share_of_two, whole_set,
    share_near_centre, share_far_from_centre, even_share,
    times_guideline, whole_over_guideline, guideline_over_share,
    guideline_at_reach, guideline_at_best, guideline_times_reach,
    working_height, larger_height, height_between,
    contact_left, whole_contact, best_third,
)  # fmt: skip

FUNCTIONS: Mapping[str, Callable[..., float]] = MappingProxyType(
    {each.__name__.replace("_", "-"): each for each in _NAMED}
)
"""Every sum by the name that content gives it: ``load-on-slips`` and so on."""
