"""The app as one ASGI object: ``python -m streamlit run trainer/web/server.py`` from the root, or ``trainer serve``.

``app`` is spelled out because ``streamlit run`` finds it by reading this file for the call; made by a function, the
script would run without headers and routes, silently.
"""

from __future__ import annotations

from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware

from trainer.web.faults import show_fault
from trainer.web.headers import Headers
from trainer.web.routes import routes

__all__ = ["app"]

app = st.App(
    Path(__file__).with_name("app.py"),
    routes=routes(),
    middleware=[Middleware(Headers)],
    on_script_error=show_fault,
)
