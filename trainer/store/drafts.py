"""Drafts and their answers: what was begun and not committed, so that a power cut loses no tap."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, Row, delete, or_, select

from trainer.core.records import Json
from trainer.errors import NotFound, Refused
from trainer.store import coding
from trainer.store.rows import put
from trainer.store.schema import answers, drafts
from trainer.store.shapes import Draft

__all__ = ["answers_of", "drop", "drop_of", "find", "keep", "keep_answer", "listed"]


def _draft(row: Row[Any]) -> Draft:
    return Draft(row.draft_id, row.owner, row.kind, row.subject, json.loads(row.body), row.opened, row.touched)


def find(connection: Connection, draft_id: str) -> Draft | None:
    """That draft, or ``None``."""
    row = connection.execute(select(drafts).where(drafts.c.draft_id == draft_id)).one_or_none()
    return _draft(row) if row else None


def listed(connection: Connection, owner: str | None, kind: str | None, subject: str | None) -> tuple[Draft, ...]:
    """The drafts that fit, by opened, then id."""
    wanted = select(drafts).order_by(drafts.c.opened, drafts.c.draft_id)
    for name, value in (("owner", owner), ("kind", kind), ("subject", subject)):
        if value is not None:
            wanted = wanted.where(drafts.c[name] == value)
    return tuple(_draft(row) for row in connection.execute(wanted))


def keep(connection: Connection, draft: Draft) -> None:
    """Write ``draft`` over what stands under its id; raises ``Refused("not-yours")`` for somebody else's draft."""
    there = find(connection, draft.draft_id)
    if there is not None and there.owner != draft.owner:
        raise Refused("not-yours")
    put(
        connection,
        drafts,
        {"draft_id": draft.draft_id},
        owner=draft.owner,
        kind=draft.kind,
        subject=draft.subject,
        body=_text(draft.body),
        opened=draft.opened,
        touched=draft.touched,
    )


def drop(connection: Connection, draft_id: str) -> None:
    """Delete that draft with its answers."""
    connection.execute(delete(drafts).where(drafts.c.draft_id == draft_id))


def drop_of(connection: Connection, hand: str) -> None:
    """Delete every draft of ``hand``, and every one about him."""
    connection.execute(delete(drafts).where(or_(drafts.c.owner == hand, drafts.c.subject == hand)))


def answers_of(connection: Connection, draft_id: str) -> dict[int, tuple[Json, bool]]:
    """Position to (answer, final), by position."""
    wanted = select(answers).where(answers.c.draft_id == draft_id).order_by(answers.c.position)
    return {row.position: (json.loads(row.answer), row.final) for row in connection.execute(wanted)}


def keep_answer(connection: Connection, draft_id: str, position: int, answer: object, *, is_final: bool) -> bool:
    """Whether the answer was kept: a final one stays as it is, whatever comes after it.

    Raises ``NotFound("no-draft")`` where the draft is gone.
    """
    if find(connection, draft_id) is None:
        raise NotFound("no-draft")
    there = connection.execute(
        select(answers.c.final).where(answers.c.draft_id == draft_id, answers.c.position == position)
    ).scalar_one_or_none()
    if there:
        return False
    key: dict[str, str | int] = {"draft_id": draft_id, "position": position}
    put(connection, answers, key, answer=_text(answer), final=is_final)
    return True


def _text(value: object | Mapping[str, Json]) -> str:
    return coding.canonical(coding.plain(value)).decode()
