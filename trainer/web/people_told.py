"""What the pages about people say alike: who is where, what stands in a table, what was refused and why."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from html import escape

import streamlit as st

from trainer.actions.people import Listed
from trainer.errors import BadCell, BadTable, TrainerError
from trainer.web import cached, frame, session, titles, wording
from trainer.web.door import Here
from trainer.web.plain import plain

__all__ = ["day", "keep_notice", "language", "notice", "pin", "place_of", "refusal", "refused", "table"]

_MOST_ROWS = 100
_NOTICE = "people-notice"


def place_of(here: Here, person: Listed) -> str:
    """Position and language."""
    return ", ".join((titles.position(here, person.position), language(person.language)))


def language(code: str) -> str:
    """What the language calls itself; its code where there are no words in it."""
    known = cached.all_words().get(code)
    return known.say("common.language-name") if known else code


def day(here: Here, value: date) -> str:
    """The day, for Markdown."""
    return plain(wording.day(value, here.words))


def pin(here: Here, person: Listed) -> None:
    """Whether a PIN is set, plain; an open code and no PIN at all, which ask for something, with shape and colour."""
    words = here.words
    if person.code_until is not None:
        until = wording.moment(person.code_until, here.desk.store.tz, words)
        _badge("half", "learn", words.say("people.code-open", moment=until))
    elif person.has_pin:
        st.markdown(words.say("people.pin-set"), width="content")
    else:
        _badge("ring", "soon", words.say("people.pin-none"))


def _badge(shape: str, tone: str, word: str) -> None:
    mark = f'<i style="--shape: var(--shape-{shape})"></i>{escape(word)}'
    st.html(f'<span class="badge badge-{tone}">{mark}</span>', width="content")


def table(here: Here, heads: Sequence[str], rows: Iterable[Sequence[str]], key: str) -> None:
    """A table of plain text; beyond a hundred rows it says how many more there are."""
    listed = list(rows)
    lines = [heads, ["---"] * len(heads), *([plain(cell) for cell in row] for row in listed[:_MOST_ROWS])]
    with st.container(key=f"table-{key}"):
        st.markdown("\n".join(f"| {' | '.join(line)} |" for line in lines))
    _more(here, len(listed))


def _more(here: Here, count: int) -> None:
    if count > _MOST_ROWS:
        st.caption(here.words.count("people.more-rows", count - _MOST_ROWS))


def refused(here: Here, cells: Iterable[BadCell], key: str) -> None:
    """Bad cells of a file, an entry each: row and column, what stands there, why it cannot be used and what to do.

    No table: on a telephone the sentence would have no room in its column.
    """
    listed = list(cells)
    with st.container(key=f"list-{key}"):
        for cell in listed[:_MOST_ROWS]:
            head = here.words.say("people.refused-at", row=cell.row, column=plain(cell.column))
            first = f"{head} {plain(cell.value)}" if cell.value else head
            st.markdown(f"{first}  \n{plain(_why(here, cell))}")
    _more(here, len(listed))


def refusal(here: Here, error: TrainerError) -> None:
    """What a form's action refused; what was typed stays."""
    if isinstance(error, BadTable):
        st.error("  \n".join(plain(_asked(here, cell)) for cell in error.cells))
    else:
        frame.shown(error, here.words)


def keep_notice(text: str) -> None:
    """Have the next page say that this was done."""
    session.keep(_NOTICE, text)


def notice() -> None:
    """Say what was done, once."""
    if text := session.kept(_NOTICE):
        st.success(text)
        session.keep(_NOTICE, "")


def _asked(here: Here, cell: BadCell) -> str:
    """The same of a field of a form: what is chosen there is not written."""
    chosen = here.words.has(f"people.{cell.column}-unsaid") and not cell.value
    return here.words.say(f"people.{cell.column}-unsaid") if chosen else _why(here, cell)


def _why(here: Here, cell: BadCell) -> str:
    said = here.words.say(f"import.{cell.code}", **{"value": cell.value, **dict(cell.values)})
    # What stands in the file is shown as it stands there.
    return said if cell.value and said.startswith(cell.value) else said[:1].upper() + said[1:]
