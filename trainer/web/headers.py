"""Response headers from the first page on, and the paths that nobody gets."""

from __future__ import annotations

import base64
import hashlib
import re
from functools import cache
from pathlib import Path

import streamlit
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["Headers", "index_html", "policy"]

_REFUSED = ("/_stcore/metrics", "/_stcore/agent")
_INLINE_SCRIPT = re.compile(r"<script(?![^>]*\bsrc=)[^>]*>(.*?)</script>", re.DOTALL)


@cache
def index_html() -> str:
    """Streamlit's own first page, as installed."""
    return (Path(streamlit.__file__).parent / "static" / "index.html").read_text(encoding="utf-8")


@cache
def policy() -> str:
    """The content security policy.

    Scripts come from here, from ``blob:`` (the parts) and the one inline script of the first page, allowed by its hash,
    which is worked out anew so that an upgrade cannot break it. Nothing is evaluated, nothing framed.
    """
    digests = (hashlib.sha256(script.encode()).digest() for script in _INLINE_SCRIPT.findall(index_html()))
    inline = " ".join(f"'sha256-{base64.b64encode(digest).decode()}'" for digest in digests)
    return "; ".join(
        (
            "default-src 'self'",
            f"script-src 'self' blob: {inline}".strip(),
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data: blob:",
            "font-src 'self' data:",
            "connect-src 'self' ws: wss:",
            "worker-src 'self' blob:",
            "frame-ancestors 'none'",
            "object-src 'none'",
            "base-uri 'none'",
            "form-action 'self'",
        )
    )


class Headers:
    """ASGI middleware: puts our headers on every answer and refuses the paths in ``_REFUSED``."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app
        self._headers = [
            (b"content-security-policy", policy().encode()),
            (b"x-content-type-options", b"nosniff"),
            # With no-referrer browsers send "Origin: null", which the session route could not tell from a stranger's.
            (b"referrer-policy", b"same-origin"),
            (b"cross-origin-opener-policy", b"same-origin"),
            (b"cross-origin-resource-policy", b"same-origin"),
            (b"permissions-policy", b"camera=(), microphone=(), geolocation=()"),
        ]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message["headers"], *self._headers]
            await send(message)

        if scope["path"].startswith(_REFUSED):
            await PlainTextResponse("Not here.", status_code=404)(scope, receive, with_headers)
            return
        await self._app(scope, receive, with_headers)
