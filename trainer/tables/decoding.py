"""Text out of bytes whose encoding nobody wrote down: UTF-8 or UTF-16, with or without a mark, else Windows' cp1252."""

from __future__ import annotations

import codecs

from trainer.errors import BadInput

__all__ = ["as_utf8", "decode"]

_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
_OLD_OR_LOCKED = b"\xd0\xcf\x11\xe0"
_SAMPLE = 4096


def decode(data: bytes) -> str:
    """The text in ``data``; raises ``BadInput`` for an old or locked spreadsheet and for what is no text at all."""
    if data.startswith(_OLD_OR_LOCKED):
        raise BadInput("table-spreadsheet")
    for encoding in _candidates(data):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise BadInput("table-not-text")


def as_utf8(data: bytes) -> bytes:
    """The same text in UTF-8; what is no text stays as it is, for whoever reads it to say so."""
    try:
        return decode(data).encode()
    except BadInput:
        return data


def _candidates(data: bytes) -> tuple[str, ...]:
    """The encodings to try, in order. A mark decides; without one, zero bytes in every other place mean UTF-16."""
    marked = tuple(encoding for mark, encoding in _MARKS if data.startswith(mark))
    if marked:
        return marked
    sample = data[:_SAMPLE]
    even, odd = sample[0::2].count(0), sample[1::2].count(0)
    if odd > len(sample) // 8 and odd > even:
        return ("utf-16-le",)
    if even > len(sample) // 8:
        return ("utf-16-be",)
    return ("utf-8", "cp1252")
