"""Colours that a hand can tell apart in a bright doghouse and in a dark cabin."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from trainer import pictures
from trainer.pictures import DARK, LIGHT, css_variables

FILLS_WITHOUT_OUTLINE_DUTY = {"ink", "line", "void", "danger", "right", "look", "floor-mark"}
both = pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])


def test_both_palettes_name_the_same_colours_in_the_same_order() -> None:
    assert list(LIGHT) == list(DARK)


@both
def test_every_colour_is_written_as_six_hexadecimal_digits(palette: Mapping[str, str]) -> None:
    assert all(re.fullmatch("#[0-9a-f]{6}", value) for value in palette.values())


@both
def test_outlines_stand_out_from_every_fill(palette: Mapping[str, str]) -> None:
    weak = {n: contrast(palette["ink"], v) for n, v in palette.items() if n not in FILLS_WITHOUT_OUTLINE_DUTY}
    assert {name: ratio for name, ratio in weak.items() if ratio < 3} == {}


@both
@pytest.mark.parametrize("mark", ["danger", "right", "look"])
def test_marks_read_like_text_on_their_paper(palette: Mapping[str, str], mark: str) -> None:
    assert contrast(palette[mark], palette["paper"]) >= 4.5


@both
def test_thin_lines_stand_out_from_what_they_lie_on(palette: Mapping[str, str]) -> None:
    for under in ("paper", "floor", "steel", "steel-light", "bowl"):
        assert contrast(palette["line"], palette[under]) >= 2.5


def test_css_variables_are_one_declaration_a_line() -> None:
    assert css_variables({"ink": "#000000", "hat-b": "#ffffff"}) == "--pic-ink: #000000;\n--pic-hat-b: #ffffff;"


def test_the_package_offers_what_its_list_says() -> None:
    assert pictures.__all__ == sorted(pictures.__all__, key=lambda name: (not name.isupper(), name.islower(), name))
    assert all(hasattr(pictures, name) for name in pictures.__all__)


def contrast(one: str, other: str) -> float:
    """WCAG 2 contrast ratio of two colours."""
    bright, dim = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def _luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
