"""The bar is for somebody who watches: on a terminal, and gone at the end."""

from __future__ import annotations

import io

from trainer.cli.progress import bar


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_terminal_shows_how_far_it_is_and_an_empty_line_at_the_end() -> None:
    out = Terminal()
    with bar(out) as told:
        for done in (0, 25, 25, 50):
            told(done, 50)
        assert [each[-4:] for each in out.getvalue().split("\r")[1:]] == ["  0%", " 50%", "100%"]
    shown = out.getvalue().rsplit("\r", 2)
    assert shown[-1] == "" == shown[-2].strip()
    assert "\n" not in out.getvalue()


def test_into_a_file_or_a_pipe_nothing_is_written() -> None:
    out = io.StringIO()
    with bar(out) as told:
        told(1, 2)
    assert out.getvalue() == ""


def test_no_rows_at_all_are_all_of_them() -> None:
    out = Terminal()
    with bar(out) as told:
        told(0, 0)
    assert "100%" in out.getvalue()
