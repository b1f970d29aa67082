"""Free text and names of outside people: erasable, under the HMAC that a record's body holds instead."""

from __future__ import annotations

import hashlib
import hmac
import secrets
import unicodedata

from sqlalchemy import Connection, bindparam, delete, insert, select

from trainer.store.schema import texts

__all__ = ["all_of", "drop_of", "find", "fits", "keep", "take"]


# Built once: an import keeps thousands of texts, and building a statement takes longer than running it.
_KNOWN = select(texts.c.key).where(texts.c.hand == bindparam("about"), texts.c.text == bindparam("said")).limit(1)
_KEEP = insert(texts)


def keep(connection: Connection, text: str, hand: str) -> str:
    """The key of ``text``, hex HMAC-SHA256 under a salt of its own; the same text about the same hand has one key.

    One key a text is what makes an outside observer one person and a second import of a file find the first.
    """
    composed = unicodedata.normalize("NFC", text)
    found = connection.execute(_KNOWN, {"about": hand, "said": composed}).scalar_one_or_none()
    if found is not None:
        return str(found)
    salt = secrets.token_bytes(32)
    key = hmac.new(salt, composed.encode(), hashlib.sha256).hexdigest()
    connection.execute(_KEEP, {"key": key, "salt": salt.hex(), "text": composed, "hand": hand})
    return key


def find(connection: Connection, key: str) -> str | None:
    """The text under ``key``, or ``None``."""
    return connection.execute(select(texts.c.text).where(texts.c.key == key)).scalar_one_or_none()


def take(connection: Connection, key: str, salt: str, text: str, hand: str) -> None:
    """Write a text that came from elsewhere, unless its key is known or is not that of this text and salt."""
    if not fits(key, salt, text):
        return
    if find(connection, key) is None:
        connection.execute(insert(texts).values(key=key, salt=salt, text=text, hand=hand))


def fits(key: str, salt: str, text: str) -> bool:
    """Whether ``key`` is the one of this text and salt, letter by letter."""
    try:
        secret = bytes.fromhex(salt)
    except (TypeError, ValueError):
        return False
    return secret.hex() == salt and hmac.new(secret, text.encode(), hashlib.sha256).hexdigest() == key


def all_of(connection: Connection) -> list[tuple[str, str, str, str]]:
    """Every (key, salt, text, hand), by key."""
    wanted = select(texts.c.key, texts.c.salt, texts.c.text, texts.c.hand).order_by(texts.c.key)
    return [tuple(row) for row in connection.execute(wanted)]


def drop_of(connection: Connection, hand: str) -> None:
    """Delete every text about ``hand``, salts too."""
    connection.execute(delete(texts).where(texts.c.hand == hand))
