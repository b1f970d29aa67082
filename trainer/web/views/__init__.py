"""One file a page, at most 120 lines: reads state, calls one action or core function, draws, answers presses.

A view is a script that Streamlit runs; it starts with ``here = door.here()``. It defines no class, keeps what was typed
through actions, its place through ``place`` and small things through ``session.keep``. ``sign_in`` is the one that is
called, because it is drawn at every address.
"""

from __future__ import annotations

__all__: list[str] = []
