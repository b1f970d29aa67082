"""What content/pictures.yaml tells about a drawing: its title, what it shows, and the names of its parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from trainer.core.text import Text

__all__ = ["PictureText"]


@dataclass(frozen=True, slots=True)
class PictureText:
    """The words for one drawing: ``alt`` describes it as it comes, ``parts`` names each part in it."""

    title: Text
    alt: Text
    parts: Mapping[str, Text]
