"""Place people, or their hands, on a picture: pick one, tap a spot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict

from trainer.web.parts.mounting import NO_VERDICTS, known, mount, newest, said, verdict_data
from trainer.web.parts.shapes import Spot, Token, Verdict
from trainer.words import Words

__all__ = ["place_crew"]

_SAID = (
    "place-start", "place-first", "place-picked", "place-placed", "place-dropped", "place-full", "place-empty",
    "place-waiting", "place-tray", "place-all", "place-left", "right", "wrong", "missed",
)  # fmt: skip


def place_crew(
    svg: str,
    tokens: Sequence[Token],
    spots: Sequence[Spot],
    placed: Mapping[str, Sequence[str]],
    *,
    words: Words,
    key: str,
    at_most: int = 2,
    ask: str = "",
    locked: bool = False,
    verdicts: Mapping[str, Verdict] = NO_VERDICTS,
) -> Mapping[str, tuple[str, ...]] | None:
    """Spot -> tokens there, sorted, when that changed since the last run; ``None`` otherwise.

    A token not placed is in no list. ``verdicts`` are by spot.
    """
    data = {
        "svg": svg,
        "tokens": [asdict(token) for token in tokens],
        "spots": [asdict(spot) for spot in spots],
        "placed": {spot: list(there) for spot, there in placed.items()},
        "at_most": at_most,
        "ask": ask,
        "locked": locked,
        "verdicts": verdict_data(verdicts),
        "words": said(words, *_SAID),
    }
    value = newest(key, mount("place_crew", key, data))
    return checked(value, [token.id for token in tokens], [spot.id for spot in spots], at_most)


def checked(
    value: object, tokens: Sequence[str], spots: Sequence[str], at_most: int
) -> Mapping[str, tuple[str, ...]] | None:
    """``value`` as spot -> sorted tokens when every name is known, no token is twice and no spot too full."""
    if not isinstance(value, dict):
        return None
    there = {spot: known(value[spot], tokens) for spot in value if spot in spots}
    if len(there) != len(value) or any(each is None or len(each) > at_most for each in there.values()):
        return None
    everyone = [token for each in there.values() for token in each or ()]
    if len(set(everyone)) != len(everyone):
        return None
    return {spot: tuple(sorted(each)) for spot, each in there.items() if each}
