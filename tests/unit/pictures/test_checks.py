"""What a drawing may not hold."""

from __future__ import annotations

import pytest

from trainer.pictures import naming_problems, parse, problems

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
        ("<svg", "not well-formed XML"),
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


def test_names_and_parts_are_compared_both_ways() -> None:
    assert naming_problems(("pipe", "bowl"), ("bowl", "kelly")) == [
        "part 'pipe' has no name",
        "name 'kelly' belongs to no part",
    ]
