"""A drawing that is only looked at; one that moves plays, and has a button that stops it."""

from __future__ import annotations

from trainer.web.parts.mounting import mount, said
from trainer.words import Words

__all__ = ["picture"]


def picture(svg: str, alt: str, *, words: Words, key: str, caption: str = "", width: int = 640) -> None:
    """Draw ``svg`` (text of ``trainer.pictures``) as one image called ``alt``, at most ``width`` [px] wide."""
    data = {"svg": svg, "alt": alt, "caption": caption, "width": width, "words": said(words, "play", "pause")}
    mount("picture", key, data)
