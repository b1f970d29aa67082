"""The drawings that ship with the app: sound, named in both languages, easy to point at."""

from __future__ import annotations

from itertools import combinations
from math import hypot
from pathlib import Path
from typing import Any

import pytest
import yaml

from trainer.pictures import DARK, LIGHT, MARKS, parse, problems, render

ROOT = Path(__file__).resolve().parents[3]
FILES = sorted((ROOT / "assets" / "pictures").glob("*.svg"))
NAMES: dict[str, dict[str, Any]] = yaml.safe_load((ROOT / "content" / "pictures.yaml").read_text(encoding="utf-8"))
TASKS = sorted([*(ROOT / "content" / "lessons").glob("*.yaml"), *(ROOT / "quizzes").glob("*.yaml")])
LANGUAGES = ("en", "es")
NARROWEST_PX = 320
TOUCH_PX = 44
TOO_CLOSE = frozenset(
    {
        ("slips-side", "handle-left", "handle-left-set"),
        ("slips-side", "handle-right", "handle-right-set"),
        ("slips-side", "handle-left-set", "under-handle"),
        ("watch-floor", "person-b", "learner-two"),
        ("watch-floor", "tong-hand", "mentor-driller"),
        ("watch-floor", "watcher-corner", "mentor-driller"),
        ("watch-floor", "watcher-doghouse", "mentor-doghouse"),
        ("watch-floor", "watcher-tongs", "mentor-tongs"),
        ("watch-floor", "watcher-door", "mentor-across"),
        ("watch-floor", "watcher-tablet", "mentor-beside"),
    }
)
"""Drawing and two spots nearer than that, of two states that are never shown at once: raised slips and set ones; on
the floor one man in the place of another: a watch has a watcher and no mentor, a learner has a mentor and no watcher,
and the second learner stands where B did."""

each_drawing = pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)


def test_every_drawing_has_words_and_all_words_have_a_drawing() -> None:
    assert {file.stem for file in FILES} == set(NAMES)


@each_drawing
def test_a_drawing_has_no_problems(file: Path) -> None:
    assert problems(file.read_text(encoding="utf-8")) == []


@each_drawing
def test_parts_and_names_are_the_same_set(file: Path) -> None:
    assert set(parse(file.read_text(encoding="utf-8")).parts) == set(NAMES[file.stem]["parts"])


@each_drawing
def test_title_alt_and_parts_have_words_in_both_languages(file: Path) -> None:
    entry = NAMES[file.stem]
    for words in (entry["title"], entry["alt"], *entry["parts"].values()):
        assert set(words) == set(LANGUAGES)
        assert all(isinstance(text, str) and text.strip() == text and text for text in words.values())


@each_drawing
@pytest.mark.parametrize("language", LANGUAGES)
def test_no_two_parts_of_a_drawing_share_a_name(file: Path, language: str) -> None:
    said = [words[language] for words in NAMES[file.stem]["parts"].values()]
    assert len(said) == len(set(said))


@each_drawing
def test_spots_are_a_thumb_apart_on_the_narrowest_screen(file: Path) -> None:
    drawing = parse(file.read_text(encoding="utf-8"))
    height_px = NARROWEST_PX * drawing.size[1] / drawing.size[0]
    for (one, (x1, y1)), (other, (x2, y2)) in combinations(drawing.spots.items(), 2):
        apart = hypot((x1 - x2) / 100 * NARROWEST_PX, (y1 - y2) / 100 * height_px)
        assert apart >= TOUCH_PX or (file.stem, one, other) in TOO_CLOSE, f"{one} and {other}: {apart:.1f} px"


@pytest.mark.parametrize("file", TASKS, ids=lambda file: f"{file.parent.name}/{file.stem}")
def test_no_screen_has_two_spots_that_are_too_close(file: Path) -> None:
    for picture, pointed in _pictured(yaml.safe_load(file.read_text(encoding="utf-8"))):
        there = {*pointed, *picture.get("show", ()), *picture.get("marks", ())}
        together = [(one, other) for name, one, other in TOO_CLOSE if name == picture["name"] and {one, other} <= there]
        assert together == []


def test_two_spots_too_close_on_one_screen_are_noticed() -> None:
    task = {"picture": {"name": "watch-floor"}, "spots": [{"part": "person-b"}, {"part": "learner-two"}]}
    assert _pictured([{"task": task}]) == [(task["picture"], {"person-b", "learner-two"})]


@each_drawing
def test_a_spot_lies_inside_the_view(file: Path) -> None:
    for across, down in parse(file.read_text(encoding="utf-8")).spots.values():
        assert 0 < across < 100
        assert 0 < down < 100


@each_drawing
@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_everything_shown_and_marked_still_has_only_written_out_colours(file: Path, palette: dict[str, str]) -> None:
    drawing = parse(file.read_text(encoding="utf-8"))
    marks = dict.fromkeys(drawing.spots, "wrong")
    assert "var(" not in render(drawing, show=drawing.optional, marks=marks, palette=palette)


@each_drawing
def test_each_optional_part_appears_when_asked_for_and_not_before(file: Path) -> None:
    drawing = parse(file.read_text(encoding="utf-8"))
    plain = render(drawing)
    for part in drawing.optional:
        assert f'id="{part}"' not in plain
        assert f'id="{part}"' in render(drawing, show={part})


@each_drawing
def test_a_drawing_can_stand_on_a_page_twice(file: Path) -> None:
    drawing = parse(file.read_text(encoding="utf-8"))
    one, two = render(drawing, prefix="one-"), render(drawing, prefix="two-")
    assert not _ids(one) & _ids(two)
    assert problems(_without_frame(one)) == []


@each_drawing
def test_each_motion_of_a_drawing_plays_from_a_still_form_that_says_something(file: Path) -> None:
    drawing = parse(file.read_text(encoding="utf-8"))
    for motion in drawing.motions:
        still, played = render(drawing, show={motion}), render(drawing, move=motion)
        assert "data-frames" in played
        assert still != render(drawing)
        assert problems(_without_frame(still.replace(' opacity="0"', ""))) == []


def test_every_colour_in_the_palette_is_used() -> None:
    text = "".join(file.read_text(encoding="utf-8") for file in FILES) + repr(dict(MARKS))
    assert [name for name in LIGHT if f"var(--pic-{name})" not in text] == []


def _ids(svg: str) -> set[str]:
    return {piece.split('"', 1)[0] for piece in svg.split(' id="')[1:]}


def _pictured(value: Any) -> list[tuple[dict[str, Any], set[str]]]:  # noqa: ANN401 - whatever YAML holds
    """Every picture in a file of tasks, with the parts that its task has pointed at or tapped in order."""
    if isinstance(value, list):
        return [found for each in value for found in _pictured(each)]
    if not isinstance(value, dict):
        return []
    found = [found for each in value.values() for found in _pictured(each)]
    if isinstance(picture := value.get("picture"), dict):
        spots = [spot["part"] if isinstance(spot, dict) else spot for spot in value.get("spots", ())]
        found.append((picture, {*spots, *value.get("at", {}).values()}))
    return found


def _without_frame(svg: str) -> str:
    return svg.replace(' aria-hidden="true"', "", 1)
