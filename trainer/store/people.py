"""Names and languages of people: erasable, keyed by the opaque hand_id that the ledger uses."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from typing import Any

from sqlalchemy import Connection, Row, delete, select

from trainer.core.records import ConsoleActor
from trainer.errors import BadInput
from trainer.store.rows import put
from trainer.store.schema import people
from trainer.store.shapes import Person

__all__ = ["drop", "drop_before", "everybody", "find", "is_hand_id", "keep", "neat"]

_HAND_ID = re.compile(r"[A-Za-z0-9_-]{1,32}")
_LONGEST_NAME = 120


def is_hand_id(text: str) -> bool:
    """Whether ``text`` can name a person: 1 to 32 of ``A-Z a-z 0-9 _ -``."""
    return _HAND_ID.fullmatch(text) is not None


def neat(text: str) -> str:
    """``text`` in Unicode's composed form (NFC), without blanks at the ends or runs of them inside."""
    return " ".join(unicodedata.normalize("NFC", text).split())


def keep(connection: Connection, person: Person) -> Person:
    """``person`` as written, the name made neat; replaces what was there under that hand_id.

    Raises ``BadInput``: ``hand-id`` for an id that cannot be one, ``name-form`` for no name or one with odd characters.
    """
    if not is_hand_id(person.hand_id) or person.hand_id == ConsoleActor:
        raise BadInput("hand-id", hand_id=person.hand_id)
    name = neat(person.name)
    if not name or len(name) > _LONGEST_NAME or not _is_printable(name):
        raise BadInput("name-form", name=name[:_LONGEST_NAME])
    note = unicodedata.normalize("NFC", person.note)
    put(connection, people, {"hand_id": person.hand_id}, name=name, language=person.language, note=note, at=person.at)
    return Person(person.hand_id, name, person.language, note, person.at)


def _is_printable(name: str) -> bool:
    # Joiners (category Cf) belong to names in some scripts; control, private and unassigned characters to none.
    return not any(unicodedata.category(each) in ("Cc", "Co", "Cs", "Cn") for each in name)


def _person(row: Row[Any]) -> Person:
    return Person(row.hand_id, row.name, row.language, row.note, row.at)


def everybody(connection: Connection, hands: Collection[str] | None = None) -> dict[str, Person]:
    """All people by hand_id; only those of ``hands`` where they are given."""
    wanted = select(people).order_by(people.c.hand_id)
    rows = connection.execute(wanted if hands is None else wanted.where(people.c.hand_id.in_(sorted(hands))))
    return {row.hand_id: _person(row) for row in rows}


def find(connection: Connection, hand_id: str) -> Person | None:
    """That person, or ``None``."""
    row = connection.execute(select(people).where(people.c.hand_id == hand_id)).one_or_none()
    return _person(row) if row else None


def drop(connection: Connection, hand_id: str) -> None:
    """Delete that person's row."""
    connection.execute(delete(people).where(people.c.hand_id == hand_id))


def drop_before(connection: Connection, hand_id: str, at: str) -> None:
    """Delete that person's row unless it was written after ``at``."""
    connection.execute(delete(people).where(people.c.hand_id == hand_id, people.c.at <= at))
