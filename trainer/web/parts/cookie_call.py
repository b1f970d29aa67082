"""The one call to our own session route that a page script cannot make itself: set the cookie, or drop it."""

from __future__ import annotations

from trainer.web.parts.mounting import fire

__all__ = ["drop_cookie", "set_cookie"]


def set_cookie(ticket: str) -> int | None:
    """HTTP status of the call (204 when the cookie is set, 0 when offline) in the run in which it came back."""
    return _status(fire("cookie_call", "cookie-set", {"method": "POST", "ticket": ticket}))


def drop_cookie() -> None:
    """Have the browser drop the cookie and load the first page afresh, so that nothing stays in its memory."""
    fire("cookie_call", "cookie-drop", {"method": "DELETE", "ticket": ""})


def _status(answer: object) -> int | None:
    return answer if isinstance(answer, int) else None
