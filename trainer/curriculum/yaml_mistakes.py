"""Why a file cannot be read, in words for somebody who has never heard of a parser: by what stands on the line.

A parser stops where it can go no further, which is often a line below the slip of the hand. ``mistake`` looks at the
lines from where the thing that it was reading began to where it stopped. Each case is a function ``(stop) -> Found``,
and ``CASES`` is the table of them: the first that knows the slip tells its line, what is wrong and what to do.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple, TypeAlias

from trainer.curriculum.yaml_indents import misplaced

__all__ = ["CASES", "Found", "Stop", "mistake"]

_TAB = re.compile(r"^[ \-]*\t")
_HARD_BLANK = re.compile(r"^[ \-]*[\u00a0\u2000-\u200b\u202f\u3000]")
_CURLY_VALUE = re.compile("(?:[:,{\\[-]\\s*|^\\s*)[\u201c\u201d\u201e\u2018]")
_STUCK_COLON = re.compile(r"^\s*(?:- +)?([A-Za-z_-]+):([^\s/:].*)$")
_STUCK_DASH = re.compile(r"^\s*-([A-Za-z_]+:\s.*)$")
_COLON_INSIDE = re.compile(r"^\s*(?:- +)?[\w-]+:\s+[^\s\"'{\[|>#].*?:(?:\s|$)")
_KEY_ALONE = re.compile(r"^\s*(?:- +)?([A-Za-z_-]+) +([^:]+)$")
_WORD_ALONE = re.compile(r"^\s*(?:- +)?([A-Za-z][\w-]*)\s*(?:#.*)?$")
_SIGN = re.compile(r"(?:^|[:,\[{-])\s+([@`%])")
_QUOTED = re.compile(r"\"(?:[^\"\\]|\\.)*\"|(?<=[\s\[{:,])'(?:[^']|'')*'")


_QUOTES: Final = "put the sentence in quotes,"


class Found(NamedTuple):
    """A slip: its line from 1, what is wrong, and what to do."""

    line: int
    what: str
    todo: str


@dataclass(frozen=True, slots=True)
class Stop:
    """Where the parser stopped: the lines of the file, the number from 0 of that line, what it was reading and since.

    ``first`` is at most ``last``, and both are lines of the file.
    """

    lines: tuple[str, ...]
    last: int
    first: int
    reading: str = ""

    def back(self) -> Iterator[tuple[int, str]]:
        """The line where it stopped, then the next one above that is not blank, each with its number from 0."""
        yield self.last, self.lines[self.last]
        above = next((n for n in range(self.last - 1, -1, -1) if self.lines[n].strip()), None)
        if above is not None:
            yield above, self.lines[above]

    def span(self) -> Iterator[tuple[int, str]]:
        """The lines since that which it was reading began, each with its number from 0."""
        yield from ((n, self.lines[n]) for n in range(self.first, self.last + 1))

    @property
    def is_in_braces(self) -> bool:
        """Whether it was reading between ``{ }`` or ``[ ]``."""
        return "flow" in self.reading


Case: TypeAlias = Callable[[Stop], Found | None]


def mistake(text: str, last: int, first: int, reading: str = "") -> Found:
    """The slip behind a stop at line ``last``, from 0, while ``reading`` something that began at line ``first``."""
    lines = tuple(text.splitlines()) or ("",)
    last = min(last, len(lines) - 1)
    while last > 0 and not lines[last].strip():
        last -= 1
    stop = Stop(lines, last, min(first, last), reading)
    return next((found for case in CASES if (found := case(stop)) is not None), _unknown(stop))


def _tab(stop: Stop) -> Found | None:
    return _on_a_line(stop, _TAB, "a tab at the beginning of the line", "put spaces instead, two for each step in")


def _hard_blank(stop: Stop) -> Found | None:
    what = "a blank at the beginning of the line that is not an ordinary one"
    return _on_a_line(stop, _HARD_BLANK, what, "type the blanks anew with the space bar")


def _on_a_line(stop: Stop, pattern: re.Pattern[str], what: str, todo: str) -> Found | None:
    for number, line in stop.back():
        if pattern.match(line):
            return Found(number + 1, what, todo)
    return None


def _curly_quotes(stop: Stop) -> Found | None:
    for number, line in (*stop.span(), *stop.back()):
        if _CURLY_VALUE.search(line):
            return Found(number + 1, "curly quotes do not hold a sentence together", 'type straight ones: "')
    return None


def _stuck_dash(stop: Stop) -> Found | None:
    for number, line in stop.back():
        if found := _STUCK_DASH.match(line):
            return Found(number + 1, "a blank is missing after the dash", f'write "- {_short(found[1])}"')
    return None


def _stuck_colon(stop: Stop) -> Found | None:
    for number, line in stop.back():
        if found := _STUCK_COLON.match(line):
            todo = f'write "{found[1]}: {_short(found[2])}"'
            return Found(number + 1, "a blank is missing after the colon", todo)
    return None


def _hash(stop: Stop) -> Found | None:
    """A sign that begins a remark, in a line that breaks off there."""
    for number, line in (*stop.span(), *stop.back()):
        bare = _bare(line)
        if " #" in bare and not bare.lstrip().startswith("#") and (stop.is_in_braces or _is_odd(line)):
            return Found(number + 1, "what stands after a # is not read", f"{_QUOTES} because of its #")
    return None


def _open_quote(stop: Stop) -> Found | None:
    for number, line in stop.span():
        if _is_odd(line):
            return Found(number + 1, "a quote is opened and not closed", 'write " at both ends of the sentence')
    if "quoted scalar" in stop.reading:
        return Found(stop.first + 1, "a quote is opened and not closed", "write it at both ends of the sentence")
    return None


def _is_odd(line: str) -> bool:
    return _bare(line.replace("\\\\", "").replace('\\"', "")).count('"') % 2 == 1


def _bare(line: str) -> str:
    """The line without what stands in whole quotes."""
    return _QUOTED.sub("", line)


def _open_brace(stop: Stop) -> Found | None:
    """A brace or bracket of a line above, or of this one at the end of the file, that is still open."""
    if not stop.is_in_braces:
        return None
    bare = _bare(stop.lines[stop.first])
    for one, other in ("{}", "[]"):
        if bare.count(one) > bare.count(other):
            return Found(stop.first + 1, f"a {one} is opened and not closed", f"write {other} where it ends")
    return None


def _colon_in_braces(stop: Stop) -> Found | None:
    if not stop.is_in_braces:
        return None
    for number, line in stop.span():
        if re.search(r"[{,]\s*[\w-]+:\s+[^\"'{\[,}][^,}]*?:(?:\s|$)", _bare(line)):
            return Found(number + 1, "a colon inside a sentence", f"{_QUOTES} because of its colon")
    return None


def _comma_in_braces(stop: Stop) -> Found | None:
    if not stop.is_in_braces:
        return None
    todo = "look at its commas and quotes: a comma between its parts, a sentence with a sign in quotes"
    return Found(stop.last + 1, "what stands in { } or [ ] cannot be told apart", todo)


def _colon_in_sentence(stop: Stop) -> Found | None:
    line = stop.lines[stop.last]
    if "mapping values" in stop.reading and _COLON_INSIDE.match(_bare(line)):
        return Found(stop.last + 1, "a colon inside a sentence", f"{_QUOTES} because of its colon")
    return None


def _no_colon(stop: Stop) -> Found | None:
    """A key and its value without a colon between them, on the line where the parser began to read a key."""
    line = stop.lines[stop.first]
    if "could not find expected ':'" in stop.reading and (found := _KEY_ALONE.match(line)):
        return Found(
            stop.first + 1, "a colon is missing after the first word", f'write "{found[1]}: {_short(found[2])}"'
        )
    return None


def _no_colon_at_the_end(stop: Stop) -> Found | None:
    """A key that lines of its own follow, and no colon behind it: the parser stops a line or two further down."""
    number = _key_alone(stop)
    if number is None or not (found := _WORD_ALONE.match(stop.lines[number])):
        return None
    return Found(number + 1, "a colon is missing after the first word", f'write "{found[1]}:"')


def _key_alone(stop: Stop) -> int | None:
    """The line, from 0, on which a colon was looked for, or over the one that stands too far in for a plain value."""
    if "could not find expected ':'" in stop.reading:
        return stop.first
    if "mapping values" not in stop.reading:
        return None
    above = [number for number in range(stop.last) if _is_told(stop.lines[number])]
    if not above or _begins(stop.lines[above[-1]]) >= _begins(stop.lines[stop.last]):
        return None
    # A sentence over two lines looks the same but for the beginning of it above.
    is_sentence = len(above) > 1 and _begins(stop.lines[above[-2]]) < _begins(stop.lines[above[-1]])
    return None if is_sentence and not stop.lines[above[-2]].rstrip().endswith(":") else above[-1]


def _is_told(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _begins(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _sign(stop: Stop) -> Found | None:
    line = stop.lines[stop.last]
    if found := _SIGN.search(f" {_bare(line)}"):
        return Found(stop.last + 1, f"a sentence begins with {found[1]}", "put it in quotes")
    return None


def _indent(stop: Stop) -> Found | None:
    found = None if stop.is_in_braces else misplaced(stop.lines, stop.last)
    return None if found is None else Found(*found)


def _unknown(stop: Stop) -> Found:
    todo = "look at this line and the one above: blanks at the beginning, colons, quotes, braces"
    return Found(stop.last + 1, "the file cannot be read from here on", todo)


def _short(text: str) -> str:
    text = text.strip()
    return text if len(text) <= 40 else f"{text[:37]}..."


CASES: Final[tuple[Case, ...]] = (
    _tab,
    _hard_blank,
    _curly_quotes,
    _stuck_dash,
    _stuck_colon,
    _hash,
    _open_quote,
    _open_brace,
    _colon_in_braces,
    _comma_in_braces,
    _colon_in_sentence,
    _no_colon,
    _no_colon_at_the_end,
    _sign,
    _indent,
)
"""What beginners' hands slip on, the surest signs first."""
