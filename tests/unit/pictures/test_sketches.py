"""Sketches made from figures: well-formed, with the words they were given, on the hands and heights they belong to."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from trainer.pictures.hand_shares import hand_shares
from trainer.pictures.hanging import hanging
from trainer.pictures.palette import LIGHT
from trainer.pictures.stick_up import stick_up

ANGLES = (0, 120, 240)
THREE = [[(0, ("27 kg", "60 lb"))], [(1, ("28 kg", "62 lb"))], [(2, ("29 kg", "64 lb"))]]
SHARED = [[(0, ("27 kg",)), (1, ("14 kg",))], [(1, ("15 kg",)), (2, ("28 kg",))]]
HANGING = hanging(
    ("Block", "40 klbf"), ("Slips", "200 klbf"), [2800.0, 110.0], [0.127, 0.165], [("Pipe",), ("Collars <&>",)]
)
SKETCHES = (
    hand_shares(ANGLES, THREE, "ABC"),
    hand_shares(ANGLES, SHARED, "AB"),
    stick_up(0.8, 0.9, ("0.8 m",)),
    HANGING,
)


def tags(svg: str, name: str) -> list[ElementTree.Element]:
    return [each for each in ElementTree.fromstring(svg).iter() if each.tag.endswith(f"}}{name}")]


def texts(svg: str) -> list[str | None]:
    return [each.text for each in tags(svg, "text")]


@pytest.mark.parametrize("svg", SKETCHES)
def test_a_sketch_is_well_formed_and_uses_the_colours_of_every_theme(svg: str) -> None:
    root = ElementTree.fromstring(svg)
    assert (root.get("viewBox") or "").startswith("0 0 ")
    used = set(re.findall(r"var\(--pic-([a-z-]+)\)", svg))
    assert used <= set(LIGHT)
    assert used != set()


def test_every_hand_has_its_figures() -> None:
    assert {"27 kg", "60 lb", "28 kg", "62 lb", "29 kg", "64 lb", "A", "B", "C"} == set(texts(SKETCHES[0]))
    gloves = [each for each in tags(SKETCHES[0], "circle") if each.get("fill") == "var(--pic-glove)"]
    assert len(gloves) == 3


def test_two_hands_on_one_handle_stand_apart() -> None:
    gloves = [each for each in tags(SKETCHES[1], "circle") if each.get("fill") == "var(--pic-glove)"]
    places = [(float(each.get("cx", "0")), float(each.get("cy", "0"))) for each in gloves]
    assert len(places) == 4
    nearest = min(
        ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for n, a in enumerate(places) for b in places[n + 1 :]
    )
    # The radius of a glove is 15.
    assert nearest > 30


def test_words_are_escaped() -> None:
    assert "Collars <&>" in texts(HANGING)


def test_the_box_stands_lower_than_the_sites_line_when_it_must() -> None:
    def line_and_measure(svg: str) -> tuple[float, float]:
        paths = [each.get("d") or "" for each in tags(svg, "path")]
        line = next(float(found[1]) for d in paths if (found := re.fullmatch(r"M40 (\d+)H560", d)))
        measure = next(float(found[1]) for d in paths if (found := re.match(r"M396 (\d+)V", d)))
        return line, measure

    line, top = line_and_measure(stick_up(0.6, 0.9, ("0.6 m",)))
    assert top > line
    line, top = line_and_measure(stick_up(0.9, 0.9, ("0.9 m",)))
    assert top == line
