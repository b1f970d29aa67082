"""A drawing that is only looked at."""

from __future__ import annotations

from trainer.web.parts.mounting import mount

__all__ = ["picture"]


def picture(svg: str, alt: str, *, key: str, caption: str = "", width: int = 640) -> None:
    """Draw ``svg`` (text of ``trainer.pictures``) as one image called ``alt``, at most ``width`` [px] wide."""
    mount("picture", key, {"svg": svg, "alt": alt, "caption": caption, "width": width})
