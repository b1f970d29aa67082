"""Text that people wrote, made safe for Markdown."""

from __future__ import annotations

from trainer.web.plain import paragraphs, plain


def test_markup_in_a_text_is_shown_as_it_was_written() -> None:
    assert plain("*1 + [2]*\n # 3") == r"\*1 \+ \[2\]\* \# 3"


def test_a_blank_line_begins_a_paragraph_and_a_line_break_does_not() -> None:
    assert paragraphs("One.\nStill one.\n \nTwo.") == "One\\. Still one\\.\n\nTwo\\."
