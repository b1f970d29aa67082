"""Standings and states: each told by word, shape and colour, and every colour readable."""

from __future__ import annotations

import pytest

from trainer.core.standing import Standing
from trainer.web import cached, headers, look, pages, plain


def luminance(colour: str) -> float:
    """Relative luminance of ``#rrggbb`` as WCAG 2.2 defines it."""
    shares = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("tone", look.TONES)
def test_each_tone_reads_on_its_ground_in_light_and_dark(tone: str) -> None:
    for ink, ground in look.TONES[tone]:
        assert contrast(ink, ground) >= 4.5


def test_each_standing_has_a_shape_and_a_colour_of_its_own_and_a_word_in_every_language() -> None:
    shapes = [shape for shape, _ in look.STANDING_LOOKS.values()]
    tones = [tone for _, tone in look.STANDING_LOOKS.values()]

    assert set(look.STANDING_LOOKS) == set(Standing)
    assert len(set(shapes)) == len(shapes)
    assert len(set(tones)) == len(tones)
    for words in cached.all_words().values():
        assert len({words.sentences[f"standing.{each.replace(' ', '-')}"] for each in Standing}) == len(Standing)


def test_each_step_state_has_a_shape_of_its_own() -> None:
    shapes = [shape for _, shape, _ in look.STATE_LOOKS]

    assert len(set(shapes)) == len(shapes)
    assert set(shapes) <= set(look.SHAPES)


def test_a_badge_takes_its_word_as_text() -> None:
    assert "&lt;b&gt;" in look.badge(Standing.DUE, "<b>")


def test_every_page_has_a_name_and_an_address_of_its_own() -> None:
    assert len({page.url for page in pages.PAGES}) == len(pages.PAGES)
    for words in cached.all_words().values():
        assert all(words.has(page.name) for page in pages.PAGES)


def test_plain_text_keeps_no_markdown() -> None:
    assert plain.plain("*a* :red[b] $c$ `d`\n# e") == r"\*a\* \:red\[b\] \$c\$ \`d\` \# e"


def test_the_policy_evaluates_nothing_and_frames_nothing() -> None:
    policy = headers.policy()

    assert "unsafe-eval" not in policy
    assert "frame-ancestors 'none'" in policy
    assert policy.count("'sha256-") == 1
