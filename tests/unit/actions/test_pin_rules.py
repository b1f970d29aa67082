"""Which PINs are refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.actions.pin_rules import is_weak, require_good
from trainer.errors import BadInput

DIGITS = st.text("0123456789", min_size=6, max_size=12)


@pytest.mark.parametrize("pin", ["", "12345", "27491a", "274 913", "２７４９１３", "-274913", "2749.13", "1" * 33])
def test_a_pin_is_six_digits_or_more_and_nothing_else(pin: str) -> None:
    with pytest.raises(BadInput, match="pin-form"):
        require_good(pin)


@pytest.mark.parametrize(
    "pin",
    ["000000", "111111", "123456", "654321", "1234567", "012345", "890123", "210987", "121212", "123123", "12341234",
     "112233", "111222", "112211", "100100", "123321", "147258", "199000", "19902001", "002024"],
)  # fmt: skip
def test_one_that_is_soon_guessed_is_refused(pin: str) -> None:
    with pytest.raises(BadInput, match="pin-weak"):
        require_good(pin)


def test_a_persons_own_id_is_refused() -> None:
    require_good("274913", "h1")
    with pytest.raises(BadInput, match="pin-weak"):
        require_good("274913", "274913")


@pytest.mark.parametrize("pin", ["274913", "618350", "805217", "193746", "204816", "9274615380"])
def test_an_ordinary_one_is_accepted(pin: str) -> None:
    require_good(pin)


@given(DIGITS)
def test_backwards_it_is_as_weak_unless_it_is_a_year_or_well_known(pin: str) -> None:
    if is_weak(pin[:6] * 2):
        assert is_weak((pin[:6] * 2)[::-1])
    assert is_weak(pin + pin)
    assert is_weak(pin + pin[::-1])


def test_few_pins_are_refused_in_all() -> None:
    weak = sum(is_weak(f"{number:06}") for number in range(0, 1_000_000, 17))
    assert weak / (1_000_000 / 17) < 0.01
