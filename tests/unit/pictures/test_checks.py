"""What a drawing may not hold."""

from __future__ import annotations

import pytest

from trainer.pictures import LIGHT, Flaw, flaws, parse, problems

FRAME = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 720 540" fill="none">{}</svg>'


def test_a_plain_drawing_is_accepted() -> None:
    pipe = '<g id="pipe" data-spot="10 10"><path d="M0 0 L5 5" stroke="var(--pic-ink)"/></g>'
    assert problems(FRAME.format(pipe)) == []


@pytest.mark.parametrize(
    ("inside", "said"),
    [
        ("<script>go()</script>", "<script> is not allowed"),
        ("<style>*{}</style>", "<style> is not allowed"),
        ("<text>STOP</text>", "<text> is not allowed"),
        ("<image/>", "<image> is not allowed"),
        ("<a><path/></a>", "<a> is not allowed"),
        ("<foreignObject/>", "<foreignObject> is not allowed"),
        ('<x xmlns="urn:other"/>', "<{urn:other}x> is not allowed"),
        ("<g>STOP</g>", "words in or after <g>"),
        ("<g/>STOP", "words in or after <g>"),
        ('<path onload="go()"/>', "attribute onload on <path>"),
        ('<path style="fill:red"/>', "attribute style on <path>"),
        ('<path class="big"/>', "attribute class on <path>"),
        ('<use href="https://example.org/a.svg#x"/>', "href='https://example.org/a.svg#x' on <use>"),
        ('<use href="javascript:go()"/>', "on <use> is not allowed"),
        ('<use xmlns:x="http://www.w3.org/1999/xlink" x:href="#a"/>', "on <use> is not allowed"),
        ('<use href="#nowhere"/>', "points to 'nowhere', which is not here"),
        ('<path fill="red"/>', "fill='red' on <path>"),
        ('<path fill="#ff0000"/>', "fill='#ff0000' on <path>"),
        ('<path fill="url(https://example.org/a.svg#x)"/>', "on <path> is not allowed"),
        ('<path fill="url(#nowhere)"/>', "points to 'nowhere'"),
        ('<path fill="var(--pic-mauve)"/>', "unknown colour 'mauve'"),
        ('<path d="M0 0 url(x)"/>', "on <path> is not allowed"),
        ('<g transform="url(x)"/>', "on <g> is not allowed"),
        ('<g id="Pipe_1"/>', "id='Pipe_1' on <g>"),
        ('<g id="a"/><g id="a"/>', "id 'a' is used 2 times"),
        ('<g id="a" data-spot="721 10"/>', "'a' lies outside the view"),
        ('<g id="a" data-spot="7"/>', "'a' needs two numbers"),
        ('<g data-spot="7 7"/>', "data-spot on an element without id"),
        ('<g id="a" data-instead="b"/>', "data-instead names 'b', which is not a part"),
    ],
)
def test_what_does_not_belong_is_refused_by_name(inside: str, said: str) -> None:
    assert any(said in problem for problem in problems(FRAME.format(inside)))
    with pytest.raises(ValueError, match="drawing refused: "):
        parse(FRAME.format(inside))


def test_all_problems_come_at_once() -> None:
    assert len(problems(FRAME.format('<script/><path onload="go()" fill="red"/>'))) == 3


@pytest.mark.parametrize(
    ("svg", "said"),
    [
        ("<svg", "the drawing cannot be read from here on"),
        ("<html/>", "the outermost element is <html>"),
        ('<svg xmlns="http://www.w3.org/2000/svg" fill="none"/>', "viewBox must be"),
        ('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>', 'needs fill="none"'),
        ('<!DOCTYPE svg [<!ENTITY a "b">]><svg/>', "a document type"),
        ('<?xml-stylesheet href="x.css"?><svg/>', "a style sheet"),
        ("<svg>" + " " * 300_000, "longer than"),
    ],
)
def test_a_bad_frame_is_refused(svg: str, said: str) -> None:
    assert any(said in problem for problem in problems(svg))


NAMES = ", ".join(LIGHT)
IN_COLOUR = 'write fill="var(--pic-NAME)" and stroke="var(--pic-NAME)" instead'
PROGRAM = "take it out: only a drawing program reads it"


@pytest.mark.parametrize(
    ("inside", "flaw"),
    [
        ("<script/>", Flaw(2, "<script> is not allowed", "take it out: nothing runs in a drawing")),
        ("<text>STOP</text>", Flaw(2, "<text> is not allowed",
            "take it out: a drawing holds no words, content/pictures.yaml does")),
        ("<image/>", Flaw(2, "<image> is not allowed", "take it out, and draw its shapes")),
        ("<metadata/>", Flaw(2, "<metadata> is not allowed", PROGRAM)),
        ('<x xmlns="urn:other"/>', Flaw(2, "<{urn:other}x> is not allowed", PROGRAM)),
        ("<switch/>", Flaw(2, "<switch> is not allowed",
            "draw it with one of: circle, clipPath, ellipse, g, line, path, pattern, polygon, polyline, rect, use")),
        ('<path style="fill:red"/>', Flaw(2, "attribute style on <path> is not allowed", IN_COLOUR)),
        ('<path class="big"/>', Flaw(2, "attribute class on <path> is not allowed", IN_COLOUR)),
        ('<g xmlns:ink="urn:ink" ink:label="a"/>', Flaw(2, "attribute label on <g> is not allowed", PROGRAM)),
        ('<g version="1.1"/>', Flaw(2, "attribute version on <g> is not allowed", "take it out")),
        ('<g opacity="0.5"/>', Flaw(2, "attribute opacity on <g> is not allowed",
            "take it out: a colour covers what lies under it")),
        ('<path fill="var(--pic-ice)"/>', Flaw(2, "unknown colour 'ice' on <path>", f"write one of: {NAMES}")),
        ('<path stroke="#ff0000"/>', Flaw(2, "stroke='#ff0000' on <path> is not allowed",
            f'write stroke="var(--pic-NAME)", where NAME is one of: {NAMES}')),
        ('<rect width="10px"/>', Flaw(2, "width='10px' on <rect> is not allowed",
            "write plain numbers, without px or %")),
        ('<g id="Boots"/>', Flaw(2, "id='Boots' on <g> is not allowed",
            "write small letters, digits and hyphens, a letter first")),
        ('<use href="#far"/>', Flaw(2, "href points to 'far', which is not here",
            "write the id of something in this file")),
        ('<g id="a"/><g id="a"/>', Flaw(2, "id 'a' is used 2 times", "give each a name of its own")),
        ('<g id="a" data-spot="721 10"/>', Flaw(2, "data-spot of 'a' lies outside the view",
            "keep to 0 to 720 across and 0 to 540 down")),
        ("<g>STOP</g>", Flaw(2, "words in or after <g>: a drawing holds none",
            "take them out: what a part is called stands in content/pictures.yaml")),
        ("<g>\n<path/>", Flaw(2, "this <g> is not closed", "write </g> where it ends, or /> at its own end")),
        ("<g id=\u201cboots\u201d/>", Flaw(2, "curly quotes do not hold a value", 'type straight ones: "')),
        ('<g id="a&b"/>', Flaw(2, "a & cannot stand in a drawing", "take it out")),
    ],
)  # fmt: skip
def test_a_slip_is_told_in_its_line_with_what_to_write(inside: str, flaw: Flaw) -> None:
    assert flaws(FRAME.format(f"\n{inside}")) == [flaw]


def test_a_colour_that_is_none_of_ours_is_not_taken_for_a_reference() -> None:
    assert len(flaws(FRAME.format('<path fill="#ff0000" stroke="#abc"/>'))) == 2


@pytest.mark.parametrize(
    ("svg", "todo"),
    [
        ('<svg xmlns="http://www.w3.org/2000/svg" fill="none"/>', 'write e.g. viewBox="0 0 360 240" on <svg>'),
        ('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>', 'write fill="none" on <svg>'),
        ("<html/>", 'begin the file with <svg xmlns="http://www.w3.org/2000/svg" ...>'),
    ],
)
def test_a_bad_frame_is_told_with_what_to_write(svg: str, todo: str) -> None:
    assert [each.todo for each in flaws(svg)] == [todo]
