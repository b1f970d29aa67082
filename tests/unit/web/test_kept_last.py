"""What is kept for all tabs is what was made last, for the key that it was made for."""

from __future__ import annotations

import pytest

from trainer.web.kept_last import KeptLast


def test_the_same_key_makes_nothing_again() -> None:
    kept: KeptLast[dict[str, int], list[int]] = KeptLast()
    made = kept.of({"a": 1}, lambda: [1])
    assert kept.of({"a": 1}, lambda: [2]) is made


def test_another_key_makes_it_anew_even_back_again() -> None:
    kept: KeptLast[str, list[int]] = KeptLast()
    first = kept.of("one", lambda: [1])
    assert kept.of("two", lambda: [2]) == [2]
    assert kept.of("one", lambda: [1]) is not first


def test_what_fails_leaves_what_was_kept() -> None:
    kept: KeptLast[str, list[int]] = KeptLast()
    first = kept.of("one", lambda: [1])

    def fail() -> list[int]:
        raise ValueError

    with pytest.raises(ValueError):
        kept.of("two", fail)
    assert kept.of("one", lambda: [3]) is first
