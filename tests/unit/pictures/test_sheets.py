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
from trainer.pictures.digits import number as digits
from trainer.pictures.load_board import load_board
from trainer.pictures.paper_test import paper_test
from trainer.pictures.sheets import SHEETS
from trainer.pictures.straight_edge import straight_edge

SAMPLES = {
    "paper-test": {"top": "0.9", "middle": "0.35", "bottom": "0.05"},
    "dies": {"wear": "0.1", "packed": "0.8", "missing": "2", "reversed": "4"},
    "straight-edge": {"middle": "1.8", "surface": "3"},
    "load-board": {"indicator": "118", "block": "24", "bands": "2"},
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


def needle(svg: str) -> list[tuple[float, float]]:
    """The corners of the needle."""
    root = ElementTree.fromstring(svg)
    (found,) = [each for each in root.iter() if each.get("fill") == "var(--pic-danger)"]
    x_and_y = (point.split(",") for point in found.attrib["points"].split())
    return [(float(x), float(y)) for x, y in x_and_y]


def bands(svg: str) -> list[tuple[float, float, float]]:
    """Left side, top and height of each band, on the joint and on the board."""
    root = ElementTree.fromstring(svg)
    found = [each.attrib for each in root.iter() if each.tag.endswith("rect") and each.get("fill") == "var(--pic-ink)"]
    return [(float(each["x"]), float(each["y"]), float(each["height"])) for each in found]


@pytest.mark.parametrize("indicator", [0, 2, 78, 80, 82, 118, 158, 160])
def test_the_needle_points_to_its_own_mark(indicator: int) -> None:
    svg = sheet("load-board", {"indicator": str(indicator)}).svg
    marks = [
        (float(x), float(y))
        for d in (each.get("d", "") for each in ElementTree.fromstring(svg).iter())
        if d.count("L") == 81
        for x, y in re.findall(r"L([\d.]+) ([\d.]+)", d)
    ]
    tips = sorted(needle(svg), key=lambda at: min(abs(at[0] - x) + abs(at[1] - y) for x, y in marks))[:2]
    tip = tuple(sum(each) / 2 for each in zip(*tips, strict=True))
    nearest = min(range(81), key=lambda n: (marks[n][0] - tip[0]) ** 2 + (marks[n][1] - tip[1]) ** 2)
    assert 2 * nearest == indicator


@pytest.mark.parametrize("shown", [1, 2, 3])
def test_a_joint_has_the_bands_of_its_row_and_no_two_rows_are_alike_in_number_or_width(shown: int) -> None:
    found = bands(sheet("load-board", {"bands": str(shown)}).svg)
    on_board = [each for each in found if each[0] < 320]
    joint = [each for each in found if each[0] > 320]
    rows = [[each for each in on_board if 456 + 90 * row <= each[1] < 546 + 90 * row] for row in range(3)]
    assert [len(row) for row in rows] == [1, 2, 3]
    assert len({height for row in rows for _, _, height in row}) == 3
    # Seen from its own first band, the joint is the very picture of its row.
    own = rows[shown - 1]
    assert [(y - joint[0][1], height) for _, y, height in joint] == [(y - own[0][1], height) for _, y, height in own]


def test_mud_hides_the_bands_of_the_joint_and_none_of_the_board() -> None:
    svg = sheet("load-board", {"bands": "0"}).svg
    assert len(bands(svg)) == 6
    assert 'fill="var(--pic-slip-dark)"' in svg
    assert 'fill="var(--pic-slip-dark)"' not in sheet("load-board", {"bands": "3"}).svg


@pytest.mark.parametrize(
    "other", [{"indicator": "120"}, {"block": "25"}, {"limit-1": "121"}, {"limit-2": "99"}, {"limit-3": "81"}]
)
def test_every_figure_of_the_board_is_drawn_and_what_the_driller_asked_for_is_not(other: dict[str, str]) -> None:
    board = SAMPLES["load-board"]
    assert sheet("load-board", {**board, **other}).svg != sheet("load-board", board).svg
    assert sheet("load-board", {**board, "near": "20"}).svg == sheet("load-board", board).svg


def test_digits_are_strokes_of_ten_different_shapes_about_the_middle_given() -> None:
    drawn = {value: "".join(digits(value, 0, 0, 16)) for value in range(10)}
    assert len({re.sub(r"transform.*?\)\S* ", "", each) for each in drawn.values()}) == 10
    assert all("<text" not in each for each in drawn.values())
    assert len([*digits(160, 0, 0, 16)]) == 3


@pytest.mark.parametrize(
    ("indicator", "limits", "shown"),
    [(161, (120, 100, 80), 1), (-1, (120, 100, 80), 1), (90, (120, 100), 1), (90, (120, 100, 80), 4)],
)
def test_a_board_that_cannot_be_drawn_is_refused(indicator: int, limits: tuple[int, ...], shown: int) -> None:
    with pytest.raises(ValueError, match="three limits"):
        load_board(indicator, 20, limits, shown, 0)
