"""The gallery of parts behind the app's own headers and style, so that the policy is tried on every part too."""

from __future__ import annotations

from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware

from trainer.web.headers import Headers
from trainer.web.routes import routes

app = st.App(Path(__file__).with_name("page.py"), routes=routes(), middleware=[Middleware(Headers)])
