"""What every check looks like."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from trainer.curriculum.loaded import Loaded
from trainer.errors import Problem

__all__ = ["Check"]

Check: TypeAlias = Callable[[Loaded], list[Problem]]
"""A rule on content: given what was loaded, every problem that breaks it."""
