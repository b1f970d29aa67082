"""What somebody last had chosen on a screen: filters and sorting, kept so that a reload shows the same."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import cast

from sqlalchemy import Connection, delete, select

from trainer.core.records import Json
from trainer.store import coding
from trainer.store.rows import put
from trainer.store.schema import views

__all__ = ["drop_of", "find", "keep"]


def find(connection: Connection, owner: str, name: str) -> dict[str, Json] | None:
    """What is kept under that name, or ``None``."""
    wanted = select(views.c.body).where(views.c.owner == owner, views.c.name == name)
    body = connection.execute(wanted).scalar_one_or_none()
    return None if body is None else cast("dict[str, Json]", json.loads(body))


def keep(connection: Connection, owner: str, name: str, body: Mapping[str, Json]) -> None:
    """Write ``body`` over what was kept."""
    text = coding.canonical(coding.plain(body)).decode()
    put(connection, views, {"owner": owner, "name": name}, body=text)


def drop_of(connection: Connection, owner: str) -> None:
    """Delete whatever is kept of ``owner``."""
    connection.execute(delete(views).where(views.c.owner == owner))
