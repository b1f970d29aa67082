"""Which PINs are refused because somebody would guess them."""

from __future__ import annotations

import re
from itertools import pairwise

from trainer.errors import BadInput

__all__ = ["LONGEST", "SHORTEST", "is_weak", "require_good"]

SHORTEST = 6
LONGEST = 32
"""Longer than anybody taps, short enough to hash at once."""

_OFTEN = frozenset({"147258", "258369", "147852", "963852", "159357", "159753", "357159", "789456", "123789", "142536"})
"""Lines and corners of a keypad."""

_YEAR = r"(?:19[4-9]\d|20[0-3]\d)"
_YEARS = re.compile(rf"{_YEAR}(?:00|{_YEAR})|00{_YEAR}")


def require_good(pin: str, hand_id: str = "") -> None:
    """Raise ``BadInput``: ``pin-form`` for anything but 6 to 32 digits, ``pin-weak`` for one that is easily guessed."""
    if not (pin.isascii() and pin.isdigit() and SHORTEST <= len(pin) <= LONGEST):
        raise BadInput("pin-form", shortest=SHORTEST)
    if is_weak(pin, hand_id):
        raise BadInput("pin-weak")


def is_weak(pin: str, hand_id: str = "") -> bool:
    """Whether ``pin`` (digits) is one of the first that anybody would try.

    One or two different digits only; up or down by one each time, over 9 and 0 too; a block repeated (121212, 123123);
    each digit twice or thrice in a row (112233, 111222); the same forwards and backwards; a line on the keypad; a year
    with 00 or a second year; the person's own id.
    """
    return (
        len(set(pin)) <= 2
        or _is_run(pin)
        or _is_repeated(pin)
        or _is_stuttered(pin)
        or pin == pin[::-1]
        or pin in _OFTEN
        or _YEARS.fullmatch(pin) is not None
        or pin == hand_id
    )


def _is_run(pin: str) -> bool:
    steps = {(int(after) - int(before)) % 10 for before, after in pairwise(pin)}
    return steps in ({1}, {9})


def _is_repeated(pin: str) -> bool:
    # A text that is a block repeated is found in its own doubling somewhere inside.
    return pin in (pin + pin)[1:-1]


def _is_stuttered(pin: str) -> bool:
    return any(
        len(pin) % each == 0 and all(len(set(pin[at : at + each])) == 1 for at in range(0, len(pin), each))
        for each in (2, 3)
    )
