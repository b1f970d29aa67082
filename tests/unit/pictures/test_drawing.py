"""Reading a drawing and writing it again."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from trainer.pictures import LIGHT, left_out, parse, render

SVG = """
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100" fill="none">
  <defs><circle id="dot" r="3" fill="var(--pic-ink)"/></defs>
  <!-- a comment for whoever edits this by hand -->
  <g id="table" data-spot="50 25"><rect width="9" height="9" fill="var(--pic-steel)"/></g>
  <g id="raised"><use href="#dot"/></g>
  <g id="set" data-shown="no" data-instead="raised"><use href="#dot"/><g id="die"/></g>
</svg>
"""


def test_parts_come_in_drawing_order_and_definitions_are_not_parts() -> None:
    assert parse(SVG).parts == ("table", "raised", "set", "die")


def test_spots_are_percentages_of_width_and_height() -> None:
    assert parse(SVG).spots == {"table": (25.0, 25.0)}


def test_size_is_that_of_the_view() -> None:
    assert parse(SVG).size == (200.0, 100.0)


def test_equal_drawings_are_equal_and_can_be_kept_in_a_set() -> None:
    assert len({parse(SVG), parse(SVG)}) == 1


def test_optional_parts_are_left_out_unless_asked_for() -> None:
    drawing = parse(SVG)
    assert drawing.optional == {"set"}
    assert 'id="set"' not in render(drawing)
    assert 'id="set"' in render(drawing, show={"set"})


def test_a_part_shown_takes_the_place_of_the_one_it_replaces() -> None:
    assert left_out(parse(SVG), show={"set"}) == {"raised"}
    assert 'id="raised"' not in render(parse(SVG), show={"set"})


def test_a_hidden_part_is_gone_with_all_that_is_in_it() -> None:
    shown = render(parse(SVG), show={"set"}, hide={"set", "table"})
    assert 'id="die"' not in shown
    assert 'id="table"' not in shown
    assert 'id="dot"' in shown


def test_a_mark_is_drawn_at_the_spot_and_differs_in_shape_not_only_in_colour() -> None:
    drawing = parse(SVG)
    drawn = {mark: render(drawing, marks={"table": mark}) for mark in ("right", "wrong", "look")}
    assert all("translate(50 25)" in svg for svg in drawn.values())
    assert len({_shapes(svg) for svg in drawn.values()}) == 3


def test_the_last_things_drawn_are_the_marks() -> None:
    root = ElementTree.fromstring(render(parse(SVG), marks={"table": "look"}))
    assert root[-1].get("transform") == "translate(50 25)"


def test_colours_stay_variables_unless_a_palette_is_given() -> None:
    assert "var(--pic-ink)" in render(parse(SVG))
    painted = render(parse(SVG), palette=LIGHT)
    assert "var(" not in painted
    assert LIGHT["ink"] in painted


def test_a_palette_that_lacks_a_colour_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="steel"):
        render(parse(SVG), palette={"ink": "#000000"})


def test_a_prefix_goes_before_ids_and_references_alike() -> None:
    svg = render(parse(SVG), prefix="left-")
    assert 'id="left-dot"' in svg
    assert 'href="#left-dot"' in svg
    assert 'href="#dot"' not in svg


def test_what_only_the_source_needs_is_not_sent() -> None:
    svg = render(parse(SVG), show={"set"})
    assert "data-" not in svg
    assert "<!--" not in svg


def test_a_label_makes_an_image_and_its_words_are_escaped() -> None:
    root = ElementTree.fromstring(render(parse(SVG), label='Slips <"set">'))
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-label"] == 'Slips <"set">'


def test_without_a_label_it_is_decoration() -> None:
    assert 'aria-hidden="true"' in render(parse(SVG))


@pytest.mark.parametrize("asked", [{"show": {"sette"}}, {"hide": {"sette"}}, {"marks": {"sette": "look"}}])
def test_an_unknown_part_is_named_with_those_there_are(asked: dict[str, set[str]]) -> None:
    with pytest.raises(ValueError, match="no such part: sette - there are table, raised"):
        render(parse(SVG), **asked)  # type: ignore[arg-type]


def test_a_part_without_a_spot_cannot_be_marked() -> None:
    with pytest.raises(ValueError, match="part with a spot: raised"):
        render(parse(SVG), marks={"raised": "look"})


def test_an_unknown_mark_is_named() -> None:
    with pytest.raises(ValueError, match="no such mark: star"):
        render(parse(SVG), marks={"table": "star"})


def test_rendering_twice_gives_the_same_text() -> None:
    assert render(parse(SVG), show={"set"}) == render(parse(SVG), show={"set"})


def _shapes(svg: str) -> tuple[str, ...]:
    mark = ElementTree.fromstring(svg)[-1]
    return tuple(f"{shape.tag} {shape.get('d')} {shape.get('fill') is None}" for shape in mark)
