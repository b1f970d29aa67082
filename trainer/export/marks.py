"""How a standing looks on paper: a shape and a fill beside its word, so that none rests on colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from trainer.core.standing import Standing

__all__ = ["STANDING_MARKS", "StandingMark"]


@dataclass(frozen=True, slots=True)
class StandingMark:
    """A standing's shape (one character, and its name as screens have it), its fill and the colour of text on it.

    Colours are ``#rrggbb``; 4.5:1 or better.
    """

    standing: Standing
    shape: str
    figure: str
    fill: str
    ink: str


STANDING_MARKS: tuple[StandingMark, ...] = (
    StandingMark(Standing.CURRENT, "●", "tick-disc", "#D5EBD8", "#12301A"),
    StandingMark(Standing.DUE, "▲", "triangle", "#FCE8B2", "#3D2E00"),
    StandingMark(Standing.OVERDUE, "◆", "diamond", "#F3B7A8", "#4A0E00"),
    StandingMark(Standing.LEARNING, "◐", "half", "#D6E4F5", "#0F2A4A"),
    StandingMark(Standing.NOT_STARTED, "○", "ring", "#FFFFFF", "#1A1A1A"),
    StandingMark(Standing.STOOD_DOWN, "■", "octagon", "#3A3A3A", "#FFFFFF"),
)
"""Whoever looks from paper to screen finds the same shapes there."""
