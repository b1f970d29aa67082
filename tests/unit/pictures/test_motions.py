"""What moves in a drawing: how it is written, where things are at each moment, and how it stands still."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.pictures import missing, parse, problems, render
from trainer.pictures.motions import Frame, frames_of, place_at

FRAME = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 720 540" fill="none">{}</svg>'
MOTION = (
    '<g id="pipe"><path d="M0 0 V9"/></g>'
    '<g id="fall" data-shown="no" data-lasts="3" data-still="80" data-redraws="pipe">'
    '<g data-frames="0 0 0 0; 50 0 -100 0 falls; 100 10 0 20"><path d="M0 0 V9"/></g>'
    '<path data-seen="0 50" d="M1 1 V9"/><path data-seen="50 100" d="M2 2 V9"/></g>'
)
times = st.floats(0, 100)


def test_frames_are_read_in_their_order_with_the_way_between_them() -> None:
    assert frames_of("0 0 0 0; 40 1.5 -182 13 falls;100 0 0 0") == (
        Frame(0, 0, 0, 0), Frame(40, 1.5, -182, 13, "falls"), Frame(100, 0, 0, 0),
    )  # fmt: skip


@pytest.mark.parametrize(("way", "down"), [("", 50.0), ("falls", 25.0), ("slows", 75.0)])
def test_half_way_through_what_falls_has_gone_a_quarter_and_what_slows_three(way: str, down: float) -> None:
    assert place_at((Frame(0, 0, 0, 0, way), Frame(100, 0, 100, 0)), 50) == (0, down, 0)


@given(at=times, way=st.sampled_from(["", "falls", "slows"]), ends=st.tuples(*[st.integers(-500, 500)] * 6))
def test_nothing_is_ever_outside_of_the_two_frames_it_lies_between(at: float, way: str, ends: tuple[int, ...]) -> None:
    found = place_at((Frame(0, *ends[:3], way), Frame(100, *ends[3:])), at)
    for value, pair in zip(found, zip(ends[:3], ends[3:], strict=True), strict=True):
        assert min(pair) - 1e-6 <= value <= max(pair) + 1e-6


def test_at_a_frame_things_are_where_the_frame_says() -> None:
    frames = frames_of("0 0 0 0; 40 1 -182 13 falls; 100 2 3 4")
    assert [place_at(frames, frame.at) for frame in frames] == [(0, 0, 0), (1, -182, 13), (2, 3, 4)]


def test_a_motion_is_a_part_that_can_be_played() -> None:
    assert parse(FRAME.format(MOTION)).motions == {"fall"}


def test_what_is_played_keeps_its_frames_and_stands_in_its_still_form_until_then() -> None:
    svg = render(parse(FRAME.format(MOTION)), move="fall", prefix="p-")
    moving, early, late = list(ElementTree.fromstring(svg)[0])
    # Three fifths of the way down, as what falls: 0.36 of it.
    assert moving.get("transform") == "translate(3.6 -64) rotate(7.2)"
    assert moving.get("data-frames") == "0 0 0 0; 50 0 -100 0 falls; 100 10 0 20"
    assert (early.get("opacity"), late.get("opacity")) == ("0", None)


def test_what_is_only_shown_has_the_still_form_and_nothing_to_play() -> None:
    svg = render(parse(FRAME.format(MOTION)), show={"fall"})
    assert "data-" not in svg
    assert "translate(3.6 -64) rotate(7.2)" in svg


def test_a_part_drawn_anew_is_left_out_and_yet_not_missing() -> None:
    drawing = parse(FRAME.format(MOTION))
    assert 'id="pipe"' not in render(drawing, move="fall")
    assert missing(drawing, show={"fall"}) == frozenset()
    assert missing(drawing, show={"fall"}, hide={"pipe"}) == {"pipe"}


def test_a_motion_that_is_not_there_is_named_with_those_there_are() -> None:
    with pytest.raises(ValueError, match="no such motion: pipe - there are fall"):
        render(parse(FRAME.format(MOTION)), move="pipe")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('data-lasts="3"', 'data-lasts="9"', "motion 'fall' must last 2 to 4 seconds"),
        ('data-lasts="3"', 'data-lasts="soon"', "data-lasts='soon' on <g>"),
        ('data-shown="no"', "", "motion 'fall' needs an id and data-shown=\"no\""),
        ('id="fall"', "", "motion '?' needs an id"),
        ('data-still="80"', "", "motion 'fall' needs a data-still of 0 to 100 percent"),
        ('data-still="80"', 'data-still="101"', "motion 'fall' needs a data-still"),
        (' data-frames="0 0 0 0; 50 0 -100 0 falls; 100 10 0 20"', "", "nothing moves in motion 'fall'"),
        ('data-lasts="3" data-still="80" ', "", "data-frames outside of a motion"),
        ("<g data-frames", '<g transform="scale(2)" data-frames', "data-frames and transform on one element"),
        ("100 10 0 20", "90 10 0 20", "data-frames must go from 0 to 100 and never back"),
        ("50 0 -100 0 falls", "0 0 -100 0 falls", "data-frames must go from 0 to 100 and never back"),
        ("0 falls", "0 flies", "data-frames="),
        ('data-seen="0 50"', 'data-seen="50 0"', "data-seen must be two percentages, the first one lower"),
        ('data-redraws="pipe"', 'data-redraws="pope"', "data-redraws names 'pope', which is not a part"),
    ],
)
def test_a_motion_that_cannot_be_played_is_refused(old: str, new: str, said: str) -> None:
    assert old in MOTION
    assert any(said in problem for problem in problems(FRAME.format(MOTION.replace(old, new))))
