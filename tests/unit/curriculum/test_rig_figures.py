"""The rig's own figures in site.yaml: read with their units, every mistake named with what to write instead."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.curriculum.mini import GOOD, copied, lines_of, loaded_from
from trainer.core.rig import Rig, inspected_body
from trainer.curriculum import Loaded, catalogue, site_from
from trainer.curriculum.checks.rig import rig_figures
from trainer.errors import BadContent

APP = Path(__file__).parents[3]
RIG = """
rig:
  units: US
  pipe: {od: 5 in, nominal: 19.50 lb/ft, grade: G-105, inspected_class: premium, wall_left: 84 %}
  string:
    - {part: drill-pipe, length: 9200 ft}
    - {part: collars, length: 300 ft, od: 6.5 in, bore: 2.8125 in, mass: 91.6 lb/ft}
  slips:
    set-a: {pipe_od: 5 in, mass: 180 lb, contact_length: 16.5 in, handle_radius: 12 in, handles: [0, 120, 240]}
  mud: 10 lb/gal
  block: 40 klb
  stick_up: 36 in
  tongs: {arm: 4.5 ft, torque: 22800 ft·lbf, layout: 90}
"""
SITE = (GOOD / "content/site.yaml").read_text("utf-8")


def with_rig(tmp_path: Path, *changes: tuple[str, str]) -> Loaded:
    text = RIG
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return loaded_from(copied(tmp_path, {"content/site.yaml": SITE + text}))


def rig_of(loaded: Loaded) -> Rig:
    assert loaded.site is not None
    assert loaded.site.rig is not None
    return loaded.site.rig


def test_figures_come_in_as_si(tmp_path: Path) -> None:
    loaded = with_rig(tmp_path)
    rig = rig_of(loaded)
    assert lines_of(loaded) == []
    assert rig.pipe.od == pytest.approx(0.127)
    assert rig.pipe.wall_left == pytest.approx(0.84)
    assert rig.string[0].length == pytest.approx(2804.16)
    assert rig.slips["set-a"].mass == pytest.approx(81.647, abs=0.001)
    assert rig.mud == pytest.approx(1198.26, abs=0.01)
    assert (rig.units, rig.tongs.layout, rig.friction) == ("US", "90", 0.08)


@pytest.mark.parametrize(
    ("old", "new", "where", "says"),
    [
        ("od: 5 in,", "od: 5,", "rig.pipe.od", "a number without its unit"),
        ("10 lb/gal", "10 ppg", "rig.mud", "there are kg/m³, g/cm³, lb/gal, lb/ft³"),
        ("36 in", "high", "rig.stick_up", "no number with a decimal point"),
        ("40 klb", "40 kN", "rig.block", "no unit of mass"),
        ("G-105", "G105", "rig.pipe.grade", 'did you mean "G-105"?'),
        ("premium", "prime", "rig.pipe.inspected_class", "expected one of new, premium, class-2, class-3"),
        ("units: US", "units: metric", "rig.units", "expected one of SI, US"),
        ("layout: 90", "layout: 60", "rig.tongs.layout", "expected one of 90, 180"),
        ("torque: 22800 ft·lbf, ", "", "rig.tongs", '"torque" is missing'),
        ("block:", "blok:", "rig", 'did you mean "block"?'),
        ("19.50 lb/ft", "21.00 lb/ft", "rig.pipe.nominal", "the table has no pipe of this size and weight"),
        ("wall_left: 84 %", "wall_left: 8400 %", "rig.pipe.wall_left", "not a share of the new wall"),
        (", wall_left: 84 %", "", "rig.pipe", '"wall_left" is missing'),
        (", inspected_class: premium", "", "rig.pipe", '"inspected_class" is missing'),
        ("part: drill-pipe", "part: collars", "rig.string", "does not begin with drill-pipe"),
        (", mass: 91.6 lb/ft", "", "rig.string[2]", '"mass" is missing'),
        ("bore: 2.8125 in", "bore: 7 in", "rig.string[2].bore", "the bore is not smaller than the outside"),
        ("pipe_od: 5 in", "pipe_od: 5.5 in", "rig.slips", "no set fits the pipe in use"),
        ("[0, 120, 240]", "[0, 120]", "rig.slips.set-a.handles", "not three angles"),
        ("[0, 120, 240]", "[0, 120, 360]", "rig.slips.set-a.handles", "not three angles"),
        ("10 lb/gal", "40 lb/gal", "rig.mud", "40 lb/gal cannot be meant"),
        ("16.5 in", "16.5 m", "rig.slips.set-a.contact_length", "650 in cannot be meant"),
        ("36 in", "36 ft", "rig.stick_up", "outside 3.94 in to 118 in - write e.g. 36 in"),
        ("22800 ft·lbf", "0.1 ft·lbf", "rig.tongs.torque", "cannot be meant"),
        ("9200 ft", "92000 ft", "rig.string", "length"),
    ],
)
def test_a_mistake_is_named_with_its_place(tmp_path: Path, old: str, new: str, where: str, says: str) -> None:
    found = [line for line in lines_of(with_rig(tmp_path, (old, new))) if not line.startswith("warning")]
    assert any(f": {where}: " in line and says in line for line in found), found


def test_a_wall_thinner_than_its_class_is_pointed_out(tmp_path: Path) -> None:
    (line,) = lines_of(with_rig(tmp_path, ("84 %", "74 %")))
    assert line.startswith("warning: content/site.yaml:")
    assert "premium has 80.0% of its wall left, or more" in line


def test_a_set_that_gear_does_not_know_is_pointed_out(tmp_path: Path) -> None:
    gear = "\ngear:\n  set-b: {kind: slips, title: {en: Set B, es: Juego B}}\n"
    loaded = loaded_from(copied(tmp_path, {"content/site.yaml": SITE + RIG + gear}))
    assert ["rig.slips.set-a" in line and "gear has no set" in line for line in lines_of(loaded)] == [True]


def test_a_wall_given_by_hand_stands_for_the_table(tmp_path: Path) -> None:
    loaded = with_rig(tmp_path, ("19.50 lb/ft", "21.00 lb/ft"), ("grade:", "wall: 9.5 mm, mass: 32 kg/m, grade:"))
    assert lines_of(loaded) == []


def test_a_site_without_rig_figures_is_as_good_as_before(tmp_path: Path) -> None:
    loaded = loaded_from(copied(tmp_path))
    assert rig_figures(loaded) == []
    assert loaded.site is not None
    assert loaded.site.rig is None


def test_the_record_of_a_site_gives_the_same_rig_and_an_old_one_none(tmp_path: Path) -> None:
    loaded = with_rig(tmp_path)
    assert site_from(loaded.site_data) == loaded.site
    old = {key: value for key, value in loaded.site_data.items() if key != "rig"}
    assert site_from(old).rig is None


def test_a_record_with_a_figure_that_is_none_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadContent) as caught:
        site_from({**with_rig(tmp_path).site_data, "rig": {"mud": "thick"}})
    assert any("mud" in str(each) for each in caught.value.problems)


def test_another_figure_is_another_catalogue(tmp_path: Path) -> None:
    hashes = set()
    for number, mud in enumerate(("10 lb/gal", "10.1 lb/gal")):
        loaded = with_rig(tmp_path / str(number), ("10 lb/gal", mud))
        assert loaded.site is not None
        hashes.add(catalogue(loaded, loaded.site).hash)
    assert len(hashes) == 2


def test_the_template_leaves_the_inspected_class_to_each_site() -> None:
    loaded = loaded_from(APP)
    assert rig_figures(loaded) == []
    assert inspected_body(rig_of(loaded).pipe) is None
