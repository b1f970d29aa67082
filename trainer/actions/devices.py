"""Which device somebody taps on, so that wrong PINs count by person and device.

A browser gets a signed cookie once somebody has signed in on it. All browsers without one count as one device: who
brings a new browser for each guess gains nothing, and cannot lock a crew out of its own tablet.
"""

from __future__ import annotations

import secrets

from trainer.actions.desk import Desk

__all__ = ["UNKNOWN", "device_in", "is_known", "new_device"]

UNKNOWN = "unknown"
"""The device that every browser without a good cookie is."""

# Both cookies are signed with one key; the prefix keeps a session's from passing for a device's.
_PREFIX = "device-"


def new_device(desk: Desk) -> str:
    """The cookie's value for a browser on which somebody has just signed in."""
    return desk.store.keys.cookie_of(_PREFIX + secrets.token_hex(16))


def device_in(desk: Desk, cookie: str | None) -> str:
    """The device in a cookie that was signed here, else ``UNKNOWN``."""
    found = desk.store.keys.session_in(cookie)
    return found if found and found.startswith(_PREFIX) else UNKNOWN


def is_known(desk: Desk, cookie: str | None) -> bool:
    """Whether the cookie names a device."""
    return device_in(desk, cookie) != UNKNOWN
