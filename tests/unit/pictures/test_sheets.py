"""Sheets drawn from figures: the same figures give the same drawing, and what is drawn is what the figures say."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.readings import DRAWINGS, contact_of, filled
from trainer.core.tasks import GRAIN
from trainer.pictures import DARK, LIGHT, exaggeration, problems, render, sheet
from trainer.pictures.paper_test import paper_test
from trainer.pictures.sheets import SHEETS
from trainer.pictures.straight_edge import straight_edge

SAMPLES = {
    "paper-test": {"top": "0.9", "middle": "0.35", "bottom": "0.05"},
    "dies": {"wear": "0.1", "packed": "0.8", "missing": "2", "reversed": "4"},
    "straight-edge": {"middle": "1.8", "surface": "3"},
}


def marks(svg: str) -> list[list[tuple[float, float]]]:
    """The (x, y) of each tooth mark, by segment."""
    root = ElementTree.fromstring(svg)
    paths = [each.attrib["d"] for each in root.iter() if each.get("stroke") == "var(--pic-ink)"]
    return [[(float(x), float(y)) for x, y in re.findall(r"M([\d.]+) ([\d.]+)h", d)] for d in paths]


@pytest.mark.parametrize("drawing", DRAWINGS)
def test_every_drawing_of_the_core_can_be_drawn_and_may_be_shown(drawing: str) -> None:
    drawn = sheet(drawing, SAMPLES[drawing])
    assert problems(drawn.svg) == []
    # No part has a name: a name could say what there is to be read.
    assert drawn.parts == ()
    assert set(SHEETS) == set(DRAWINGS)


@pytest.mark.parametrize("drawing", DRAWINGS)
def test_a_sheet_is_the_same_again_and_another_grain_is_another_sheet(drawing: str) -> None:
    one, again, other = (sheet(drawing, {**SAMPLES[drawing], GRAIN: grain}).svg for grain in ("1", "1", "2"))
    assert one == again
    assert one != other


@pytest.mark.parametrize("palette", [LIGHT, DARK])
@pytest.mark.parametrize("drawing", DRAWINGS)
def test_a_sheet_can_be_painted_for_paper(drawing: str, palette: dict[str, str]) -> None:
    svg = render(sheet(drawing, SAMPLES[drawing]), palette=palette, label="A sheet")
    assert "var(" not in svg
    assert 'aria-label="A sheet"' in svg


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1), st.integers(0, 9999), st.integers(2, 6))
def test_as_many_marks_stand_in_a_third_as_its_share_says(
    top: float, middle: float, bottom: float, grain: int, segments: int
) -> None:
    svg = paper_test([(top, middle, bottom)] * segments, grain)
    full = paper_test([(1.0, 1.0, 1.0)] * segments, grain)
    counts, whole = ([[0, 0, 0] for _ in range(segments)] for _ in range(2))
    for into, found in ((counts, marks(svg)), (whole, marks(full))):
        for number, band in enumerate(found):
            for _, y in band:
                into[number][int((y - 70) // 150)] += 1
    if min(top, middle, bottom) > 0.1:
        for segment, most in zip(counts, whole, strict=True):
            for share, seen, of in zip((top, middle, bottom), segment, most, strict=True):
                assert abs(seen - share * of) <= 0.5


def test_a_sheet_without_contact_is_an_empty_paper() -> None:
    assert marks(sheet("paper-test", {}).svg) == []
    assert contact_of(filled("paper-test", {GRAIN: "9"})) == ((0.0, 0.0, 0.0),) * 3


def test_a_die_that_is_gone_leaves_a_hole_and_no_teeth() -> None:
    whole, gone = (sheet("dies", {"missing": each}).svg for each in ("0", "3"))
    assert gone.count("var(--pic-void)") == whole.count("var(--pic-void)") + 1
    assert gone.count("var(--pic-steel-light)") == whole.count("var(--pic-steel-light)") - 3


def test_worn_teeth_reach_less_far_and_packed_grooves_are_filled() -> None:
    def reach(svg: str) -> float:
        teeth = [each for each in ElementTree.fromstring(svg).iter() if each.get("fill") == "var(--pic-steel-light)"]
        return max(float(point.split(",")[0]) for each in teeth for point in each.attrib["points"].split())

    assert reach(sheet("dies", {"wear": "0.8"}).svg) < reach(sheet("dies", {"wear": "0"}).svg) - 40
    fills = [sheet("dies", {"packed": each}).svg.count("var(--pic-slip-dark)") for each in ("0", "0.8")]
    assert fills[1] == fills[0] + 6


def test_the_gap_is_filled_with_as_many_leaves_as_it_is_wide() -> None:
    svg = sheet("straight-edge", {"top": "0.4", "bottom": "2.4"}).svg
    leaves = svg.count('fill="var(--pic-glove)"') + svg.count('fill="var(--pic-handle)"')
    assert leaves == 2 + 12


def test_the_scale_is_told_as_it_is_drawn() -> None:
    # A leaf of 0.2 mm is 16 units wide, 420 mm of slip are 500 units high: 80 units a mm against 1.19.
    assert exaggeration(0.2) == 67
    assert exaggeration(0.1) == 134


@pytest.mark.parametrize("leaves", [(1, 2), (16, 0, 0), (-1, 0, 0)])
def test_gaps_that_cannot_be_drawn_are_refused(leaves: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="three gaps"):
        straight_edge(leaves, 1, 0)
