"""The rig's figures: strength of inspected pipe against the published table, and the string they make."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.core.rigs import INCH, PIPE, RIG, linear, new_pipe, not_inspected
from trainer.core.rig import (
    RigPipe,
    drill_pipe_length,
    inspected_body,
    known_size,
    new_body,
    pipe_mass,
    sections,
    with_wall,
    worn_crush_limit,
)
from trainer.mechanics import PIPES, crush_limit, hanging_load

PSI_E75 = 75_000


@pytest.mark.parametrize(("left", "pounds"), [(1.0, 395_595), (0.8, 311_535), (0.7, 270_432)])
def test_inspected_pipe_holds_what_the_published_table_says(left: float, pounds: int) -> None:
    # API RP 7G, used tubing, uniform wear: new, premium and class 2 of 5 in 19.50 E-75.
    body = inspected_body(replace(PIPE, wall_left=left))
    assert body is not None
    assert body.area / INCH**2 * PSI_E75 == pytest.approx(pounds, abs=1)


def test_without_an_inspected_class_there_is_no_strength() -> None:
    pipe = not_inspected().pipe
    assert inspected_body(pipe) is None
    assert worn_crush_limit(pipe, 0.4, 0.08) is None
    assert inspected_body(replace(PIPE, wall_left=None)) is None
    assert inspected_body(replace(PIPE, inspected_class=None)) is None


def test_new_pipe_found_new_has_the_limit_of_the_formula() -> None:
    size = PIPES["5 in 19.50"]
    expected = crush_limit(size.od, size.id, 517.107e6, 0.4064, 0.08)
    assert worn_crush_limit(new_pipe().pipe, 0.4064, 0.08) == pytest.approx(expected, rel=1e-6)


def test_worn_pipe_has_less_than_new() -> None:
    worn, new = (worn_crush_limit(pipe, 0.4064, 0.08) for pipe in (PIPE, new_pipe().pipe))
    assert worn is not None
    assert new is not None
    assert worn / new == pytest.approx(311_535 / 395_595, rel=1e-5)


def test_a_size_is_found_by_diameter_and_nominal_weight() -> None:
    assert known_size(PIPE) == PIPES["5 in 19.50"]
    assert known_size(replace(PIPE, nominal=linear("21.00 lb/ft"))) is None


def test_a_size_that_the_table_lacks_needs_wall_and_mass() -> None:
    odd = RigPipe(0.1397, 32.0, "S-135")
    with pytest.raises(ValueError, match="wall"):
        new_body(odd)
    with pytest.raises(ValueError, match="mass"):
        pipe_mass(odd)
    given = replace(odd, wall=0.010, mass=36.0)
    assert new_body(given).id == pytest.approx(0.1197)
    assert pipe_mass(given) == 36.0


def test_the_string_is_the_sites_with_the_length_asked_for() -> None:
    string = sections(RIG, 1000.0)
    assert [each.length for each in string] == [1000.0, 110.0, 90.0]
    assert string[0].area == pytest.approx(3.403e-3, rel=1e-3)
    assert drill_pipe_length(RIG) == 2800.0
    assert len(sections(RIG, 1000.0, with_heavy=False)) == 1
    assert hanging_load(string, 1200.0) > hanging_load(string[:1], 1200.0)


def test_a_wall_can_be_tried_without_touching_the_sites_own() -> None:
    before = not_inspected()
    tried = with_wall(before, "class-2", 0.72)
    assert inspected_body(tried.pipe) is not None
    assert before.pipe.inspected_class is None
