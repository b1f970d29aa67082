"""Figures of a site that cannot be meant are refused with what to write, unusual ones are to be looked at again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from trainer import curriculum
from trainer.curriculum import read_site
from trainer.curriculum.checks.site_limits import LIMITS, out_of_bounds
from trainer.errors import BadContent, Problem

ROOT = Path(curriculum.__file__).resolve().parents[2]
CONTENT = curriculum.load(ROOT, ROOT)
TEMPLATE = (ROOT / "content" / "site.yaml").read_text("utf-8")
CREW = 'day-1: {start: 2026-01-05, on: 14, off: 14, tour: "06:00-18:00"'


def changed(*pairs: tuple[str, str]) -> bytes:
    text = TEMPLATE
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    return text.encode()


def problems(*pairs: tuple[str, str]) -> tuple[Problem, ...]:
    with pytest.raises(BadContent) as caught:
        read_site(CONTENT, changed(*pairs), "mine.yaml")
    return caught.value.problems


@pytest.mark.parametrize(
    ("old", "new", "where", "what", "todo"),
    [
        ('slip_team: "3"', 'slip_team: "1"', "figures.slip_team", "1 cannot be meant, it lies outside 2 to 6", "3"),
        ('slip_team: "3"', "slip_team: few", "figures.slip_team", 'expected a whole number, got "few"', "3"),
        ('connections: "10"', 'connections: "0"', "figures.watch_connections", "outside 1 to 200", "10"),
        (
            "kn: 450",
            "kn: 1",
            "gear_rules.least_load_kn",
            "it lies outside 50 kN to 4500 kN",
            "450",
        ),
        ("test_good_for: P3M", "test_good_for: P30Y", "gear_rules.test_good_for", "outside P1D to P1Y", "P3M"),
        ("P90D", "P9Y", "outside_good_for", "P9Y cannot be meant", "P90D"),
        ("attempts: 3", "attempts: 99", "assessment.attempts", "99 cannot be meant", "3"),
        ("friction: 0.08", "friction: 5", "rig.friction", "5 cannot be meant", "0.08"),
        ("stick_up: 36 in", "stick_up: 36 ft", "rig.stick_up", "432 in cannot be meant", "36 in"),
        ("block: 40 klb", "block: 40000 klb", "rig.block", "klb cannot be meant", "40 klb"),
        ("18:00", "07:00", "crews.day-1.tour", "1 h cannot be meant", '"06:00-18:00"'),
        ("on: 14", "on: 900", "crews.day-1.on", "900 cannot be meant", "14"),
    ],
)
def test_what_nobody_can_mean_is_refused_once_with_an_example(
    old: str, new: str, where: str, what: str, todo: str
) -> None:
    [found] = problems((old, new))
    assert (found.where, found.todo, found.is_warning) == (where, f"write e.g. {todo}", False)
    assert what in found.what
    assert new.split(":")[0] in changed((old, new)).decode().splitlines()[found.line - 1] or where.endswith("tour")


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("kn: 450", "kn: 120", "gear_rules.least_load_kn"),
        ('connections: "10"', 'connections: "4"', "figures.watch_connections"),
        ('slip_team: "3"', 'slip_team: "5"', "figures.slip_team"),
        ("retake_hours: 12", "retake_hours: 2", "assessment.retake_hours"),
        ("attempts: 3", "attempts: 9", "assessment.attempts"),
        ("off: 14", "off: 0", "crews.day-1.off"),
        ("test_good_for: P3M", "test_good_for: P10M", "gear_rules.test_good_for"),
        ("mass: 180 lb", "mass: 60 lb", "rig.slips.set-5-a.mass"),
        ("mud: 10 lb/gal", "mud: 7 lb/gal", "rig.mud"),
    ],
)
def test_what_is_unusual_is_a_remark_and_stops_nothing(old: str, new: str, where: str) -> None:
    [remark] = read_site(CONTENT, changed((old, new)), "mine.yaml").remarks
    assert (remark.where, remark.todo, remark.is_warning) == (where, "look at this again", True)


def test_fewer_people_than_handles_are_held_against_the_sites_own_text() -> None:
    fewer = ('slip_team: "3"', 'slip_team: "2"')
    [remark] = read_site(CONTENT, changed(fewer), "mine.yaml").remarks
    assert (remark.where, remark.todo) == ("figures.slip_team", "read your own texts against this")
    lifting = TEMPLATE[TEMPLATE.index("  lifting:") :]
    assert read_site(CONTENT, changed(fewer, (lifting, "")), "mine.yaml").remarks == ()


def test_a_notice_that_never_ends_is_refused() -> None:
    [found] = problems(("test_good_for: P3M, notice: P14D", "test_good_for: P1M, notice: P2M"))
    assert (found.where, found.what) == ("gear_rules.notice", "the notice is as long as the test is good for")


def test_what_the_app_comes_with_lies_inside_every_end() -> None:
    site = CONTENT.site
    assert site is not None
    assert out_of_bounds(CONTENT) == []
    assert out_of_bounds(replace(CONTENT, site=None)) == []
    for limit in LIMITS:
        assert limit.hard[0] <= limit.usual[0] < limit.usual[1] <= limit.hard[1]
        assert list(limit.figures(site)), limit


def test_every_problem_comes_at_once_and_each_at_its_own_line() -> None:
    found = problems(
        ("role: coordinator", "role: boss"),
        (CREW, CREW.replace("06:00-18:00", "day")),
        ('slip_team: "3"', 'slip_team: "1"'),
        ("segments: 3", "segmens: 3"),
        ("kn: 450", "kn: heavy"),
        ("G-105", "G-999"),
        ("friction: 0.08", "friction: 5"),
        ("mud: 10", "mood: 10"),
        ("stick_up: 36 in", "stick_up: 300 in"),
    )
    lines = changed().decode().splitlines()
    told = {(each.where, lines[each.line - 1].strip().partition(":")[0]) for each in found}
    assert told == {
        ("positions.coordinator.role", "coordinator"),
        ("crews.day-1.tour", "day-1"),
        ("figures.slip_team", "slip_team"),
        ("gear.set-5-a", "set-5-a"),
        ("gear_rules.least_load_kn", "gear_rules"),
        ("rig.pipe.grade", "grade"),
        ("rig.friction", "friction"),
        ("rig", "mud"),
        ("rig", "units"),
        ("rig.stick_up", "stick_up"),
    }
    # No other number is safe to be copied.
    todo = {each.where: each.todo for each in found if "missing" in each.what or each.where.endswith("kn")}
    assert todo == {"gear_rules.least_load_kn": "write e.g. 450", "rig": "add it, e.g. mud: 10 lb/gal"}


def test_what_stands_in_for_a_bad_figure_is_never_judged_itself() -> None:
    [found] = problems(("mass: 180 lb, contact", "mass: heavy, contact"), ("friction: 0.08", "friction: 0.08"))
    assert found.where == "rig.slips.set-5-a.mass"
