"""Parts of a screen that Streamlit has none of: each is a Python function with a script and a style beside it.

Every part takes what it draws as plain values (``shapes``) and the sentences as ``words``, and gives back what the
person did: the newest answer in the run in which it changed, ``None`` otherwise. So a view saves and reruns::

    answer = choose(options, draft, ask=question, words=words, key=f"choice-{item}")
    if answer is not None:
        quizzing.answer(...)
        st.rerun()

``key`` is unique to the item *and* the try: a new try gets a new key. Words and people's names reach a script only as
data and are put in as text. ``mounting`` is how a part gets into the page; start there. May import ``trainer.words``,
``trainer.web.session`` and ``trainer.web.look``.
"""

from __future__ import annotations

from trainer.web.parts.chart import Axis, Band, Limit, Line, Moving, chart
from trainer.web.parts.choose import choose
from trainer.web.parts.cookie_call import drop_cookie, set_cookie
from trainer.web.parts.dials import Dial, dials
from trainer.web.parts.keypad import keypad
from trainer.web.parts.matrix_table import matrix_table
from trainer.web.parts.order_on_picture import order_on_picture
from trainer.web.parts.page_frame import page_frame
from trainer.web.parts.picture import picture
from trainer.web.parts.place_crew import place_crew
from trainer.web.parts.point_at import point_at
from trainer.web.parts.put_in_order import put_in_order
from trainer.web.parts.read_aloud import read_aloud
from trainer.web.parts.shapes import Cell, Choice, Column, Level, Row, Spot, Tick, Ticked, Token, Verdict
from trainer.web.parts.step_ticks import step_ticks

__all__ = [
    "Axis",
    "Band",
    "Cell",
    "Choice",
    "Column",
    "Dial",
    "Level",
    "Limit",
    "Line",
    "Moving",
    "Row",
    "Spot",
    "Tick",
    "Ticked",
    "Token",
    "Verdict",
    "chart",
    "choose",
    "dials",
    "drop_cookie",
    "keypad",
    "matrix_table",
    "order_on_picture",
    "page_frame",
    "picture",
    "place_crew",
    "point_at",
    "put_in_order",
    "read_aloud",
    "set_cookie",
    "step_ticks",
]
