"""Rules on the site's figures about the crew at the slips: what the set weighs, and how two people take it."""

from __future__ import annotations

from trainer.core.lifted import MASS_FIGURE, TWO_FIGURE, WAYS_OF_TWO, lifted_set, mass_written
from trainer.curriculum.loaded import SITE, Loaded
from trainer.errors import Problem

__all__ = ["crew_figures"]

_ALIKE_KG = 1.0
"""What rounding from pounds may make of it."""


def crew_figures(loaded: Loaded) -> list[Problem]:
    """Figures of the template that cannot be what they are for, or that the rig's own figures speak against."""
    if loaded.site is None:
        return []
    figures, found = loaded.site.figures, []
    picked, written = figures.get(TWO_FIGURE), figures.get(MASS_FIGURE)
    if picked is not None and picked not in WAYS_OF_TWO:
        found.append((TWO_FIGURE, f'there is no way "{picked}"', f"write one of {', '.join(WAYS_OF_TWO)}", False))
    if written is not None and mass_written(written) is None:
        found.append((MASS_FIGURE, f'no mass of a set that people lift: "{written}"', 'write kg, e.g. "90"', False))
    elif written is not None and loaded.site.rig is not None:
        heaviest = max((each.mass for each in loaded.site.rig.slips.values()), default=lifted_set(loaded.site).mass)
        if abs(heaviest - lifted_set(loaded.site).mass) > _ALIKE_KG:
            what = f"the heaviest set under rig weighs {heaviest:.0f} kg"
            found.append((MASS_FIGURE, what, "leave this figure out: it wins over the rig's", True))
    return [
        loaded.problem(SITE, ("figures", name), what, todo, warning=is_warning)
        for name, what, todo, is_warning in found
    ]
