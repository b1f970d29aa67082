"""Printed sheets read back by other programs: text by pdftotext, everything else by pikepdf."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator

import pikepdf
import pytest

from trainer.cli.browsers import find_pdftotext

MM = 72 / 25.4
"""Points a millimetre."""

needs_pdftotext = pytest.mark.skipif(find_pdftotext() is None, reason="no pdftotext here: install poppler-utils")
_MARKS = dict.fromkeys(map(ord, "\u202a\u202b\u202c\u2066\u2067\u2068\u2069"))


def pages(data: bytes) -> list[str]:
    """The text of each page, its blanks single, without marks of direction."""
    told = _pdftotext(data, "-layout").translate(_MARKS)
    return [" ".join(page.split()) for page in told.split("\f")[:-1]]


def text(data: bytes) -> str:
    """The text of all pages in reading order."""
    return " ".join(_pdftotext(data).translate(_MARKS).split())


def text_as_set(data: bytes) -> str:
    """The text of all pages in the order in which it was set: two columns whose lines differ in height stay apart."""
    return " ".join(_pdftotext(data, "-raw").translate(_MARKS).split())


def words_outside(data: bytes, margin: float) -> list[str]:
    """The words that stand nearer to an edge of their page than ``margin`` millimetres."""
    found = []
    for page in re.findall(r"<page (.*?)</page>", _pdftotext(data, "-bbox"), re.DOTALL):
        width, height = (float(each) for each in re.findall(r'(?:width|height)="([\d.]+)"', page)[:2])
        for left, top, right, bottom, word in re.findall(
            r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', page
        ):
            nearest = min(float(left), float(top), width - float(right), height - float(bottom))
            if nearest < margin * MM:
                found.append(word)
    return found


def _pdftotext(data: bytes, *options: str) -> str:
    program = find_pdftotext()
    assert program is not None
    done = subprocess.run([program, *options, "-", "-"], input=data, capture_output=True, check=True)
    return done.stdout.decode()


def sizes(data: bytes) -> list[tuple[int, int]]:
    """Width and height of each page in whole millimetres."""
    with pikepdf.open(io.BytesIO(data)) as book:
        boxes = [[float(each) for each in page.mediabox] for page in book.pages]
    return [(round(box[2] / MM), round(box[3] / MM)) for box in boxes]


def fonts(data: bytes) -> dict[str, bool]:
    """Each font's name, and whether its outlines are in the file."""
    with pikepdf.open(io.BytesIO(data)) as book:
        return {
            str(font.BaseFont): "/FontFile2" in font.DescendantFonts[0].FontDescriptor
            for page in book.pages
            for font in page.resources.get("/Font", {}).values()
        }


def _operands(data: bytes, operator: str) -> Iterator[tuple[int, list[object]]]:
    with pikepdf.open(io.BytesIO(data)) as book:
        for number, page in enumerate(book.pages):
            for operands, found in pikepdf.parse_content_stream(page):
                if str(found) == operator:
                    yield number, list(operands)


def text_sizes(data: bytes) -> set[float]:
    """Every size of text that is set, in points."""
    return {float(operands[1]) for _, operands in _operands(data, "Tf")}  # type: ignore[arg-type]


def squares(data: bytes, side: float) -> list[tuple[int, float, float]]:
    """Page, left and upper edge of every square of that side, in millimetres from the lower left corner."""
    found = []
    for page, operands in _operands(data, "re"):
        x, y, wide, high = (float(each) / MM for each in operands)  # type: ignore[arg-type]
        if abs(abs(wide) - side) < 0.02 and abs(abs(high) - side) < 0.02:
            found.append((page, round(x, 2), round(max(y, y + high), 2)))
    return sorted(set(found))
