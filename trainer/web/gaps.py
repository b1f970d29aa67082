"""What is missing in a form that was sent: said under each field that lacks it, and all at once at its end."""

from __future__ import annotations

from html import escape

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from trainer.words import Words

__all__ = ["Gaps"]


class Gaps:
    """The fields of one form that have to be filled in, in their order. It lives for one run of the page."""

    def __init__(self, words: Words) -> None:
        self._words = words
        self._lacking: list[tuple[str, str, DeltaGenerator]] = []

    def ask(self, name: str, *, is_there: bool, wrong: str = "") -> None:
        """Note under the field just drawn whether it is filled in; ``name`` says in a few words what belongs there.

        ``wrong`` is the sentence on what is filled in where that cannot be, and stands under the field.
        """
        spot = st.empty()
        if wrong or not is_there:
            self._lacking.append((name, wrong, spot))

    def told(self) -> bool:
        """Whether anything is missing; where it is, the page says what."""
        mark = f'<span class="badge badge-late"><i style="--shape: var(--shape-diamond)"></i>{self._here()}</span>'
        for _, wrong, spot in self._lacking:
            if wrong:
                spot.error(wrong)
            else:
                spot.html(mark)
        if self._lacking:
            st.error(self._words.say("common.gap-all", what=", ".join(name for name, *_ in self._lacking)))
        return bool(self._lacking)

    def _here(self) -> str:
        return escape(self._words.say("common.gap-here"))
