"""A picture's words: what it shows, and what was added, taken out or marked, in the language on screen."""

from __future__ import annotations

import pytest

from trainer.core.tasks import Picture
from trainer.curriculum import PictureText
from trainer.pictures import parse
from trainer.web.pictured import drawn, state_of
from trainer.words import Words

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" fill="none">'
    '<g id="bar" data-spot="50 50"><path d="M0 0 L1 1"/></g>'
    '<g id="glove" data-spot="10 10" data-shown="no"><path d="M0 0 L1 1"/></g>'
    '<g id="drop" data-shown="no" data-lasts="2" data-still="100" data-redraws="bar">'
    '<g data-frames="0 0 0 0; 100 0 9 0"><path d="M0 0 L1 1"/></g></g></svg>'
)
TEXT = PictureText(
    {"en": "The bar", "es": "La barra"},
    {"en": "A bar.", "es": "Una barra."},
    {
        "bar": {"en": "Bar", "es": "Barra"},
        "glove": {"en": "Glove", "es": "Guante"},
        "drop": {"en": "It drops", "es": "Cae"},
    },
)
SAID = {
    "pictured.shown": "Added: {parts}.",
    "pictured.moving": "Moving: {parts}.",
    "pictured.not-shown": "Gone: {parts}.",
    "pictured.marked-wrong": "Danger: {parts}.",
}


def alt(picture: Picture, language: str = "en") -> str:
    return drawn(parse(SVG), TEXT, picture, Words(language, SAID)).alt


def test_the_drawing_as_it_comes_is_title_and_description() -> None:
    assert alt(Picture("bar")) == "The bar. A bar."
    assert alt(Picture("bar"), "es") == "La barra. Una barra."


def test_what_is_added_marked_or_taken_out_is_said() -> None:
    said = alt(Picture("bar", ("glove",), ("bar",), {"glove": "wrong"}), "es")
    assert said == "La barra. Una barra. Added: Guante. Gone: Barra. Danger: Guante."


def test_two_states_of_one_drawing_share_no_id() -> None:
    one = drawn(parse(SVG), TEXT, Picture("bar"), Words("en", SAID)).svg
    two = drawn(parse(SVG), TEXT, Picture("bar", ("glove",)), Words("en", SAID)).svg
    ids = [{part.split('"')[0] for part in svg.split(' id="')[1:]} for svg in (one, two)]
    assert ids[0]
    assert not ids[0] & ids[1]


def test_what_moves_is_said_and_what_it_draws_anew_is_not_called_missing() -> None:
    assert alt(Picture("bar", move="drop")) == "The bar. A bar. Moving: It drops."
    assert alt(Picture("bar", hide=("bar",))) == "The bar. A bar. Gone: Bar."


def test_a_picture_that_moves_and_its_still_form_are_two_pictures() -> None:
    moving, still = Picture("bar", move="drop"), Picture("bar", ("drop",))
    assert "data-frames" in drawn(parse(SVG), TEXT, moving, Words("en", SAID)).svg
    assert "data-frames" not in drawn(parse(SVG), TEXT, still, Words("en", SAID)).svg
    assert state_of(moving) != state_of(still)


def test_an_unknown_part_is_refused() -> None:
    with pytest.raises(ValueError, match="no such part"):
        alt(Picture("bar", ("boot",)))
