"""The screens, in a browser: Streamlit behind our own headers, sign-in, look and parts. Only here is it imported.

Start at ``server`` (the ASGI object) and ``app`` (the page script); a new page is a line in ``pages`` and a file in
``views``. May import ``actions``, ``curriculum``, ``pictures``, ``export``, ``tables`` and ``core``'s types; never
``store``.

=========  =========================================================================================================
server     the app object: headers, routes, page script; ``serving`` starts it
headers    security headers and policy; ``routes``: first page, style, fonts, the session cookie; ``faults``
app        the page script: gate, frame, page
door       who is here; ``session``: what a tab holds; ``beat``: the heartbeat and the idle warning; ``late``
pages      the table of pages; ``frame``: top bar, page bar, errors; ``views``: the pages themselves
matrix_*   what a page is made of, one thing a file; likewise evidence_*, people_*; ``charts``: the pictures by Plotly
cached     what all tabs share; ``language``, ``place``, ``plain``, ``press``, ``look``, ``aloud``: one small thing each
parts      what Streamlit has no widget for
=========  =========================================================================================================
"""

from __future__ import annotations

__all__: list[str] = []
