"""The paper test: verdicts at their limits, and the step that follows."""

from __future__ import annotations

import pytest

from trainer.errors import MechanicsRangeError
from trainer.mechanics import Reading, Verdict, next_step, read_imprint, stress_ratio

INCH = 0.0254
Contact = list[list[float]]


def even(top: float, middle: float, bottom: float) -> Contact:
    return [[top, middle, bottom]] * 3


def test_the_worked_imprint_is_top_only() -> None:
    reading = read_imprint([[0.90, 0.35, 0.05], [0.85, 0.30, 0.0], [0.88, 0.40, 0.05]], 16.5 * INCH)
    assert reading.coverage == pytest.approx(0.420, abs=0.0005)
    assert reading.thirds == pytest.approx((0.8767, 0.35, 0.0333), abs=5e-5)
    assert (reading.verdict, reading.findings) == ("top only", ("top only",))


def test_the_worked_imprint_loses_a_third_of_the_safe_load() -> None:
    reading = read_imprint([[0.90, 0.35, 0.05], [0.85, 0.30, 0.0], [0.88, 0.40, 0.05]], 16.5 * INCH)
    worn = stress_ratio(5 * INCH, reading.effective_length, 0.08)
    whole = stress_ratio(5 * INCH, 16.5 * INCH, 0.08)
    assert worn == pytest.approx(2.13, abs=0.005)
    assert whole == pytest.approx(1.40, abs=0.005)
    assert 1 - whole / worn == pytest.approx(1 / 3, abs=0.01)


def test_evenness_is_the_spread_of_the_segments_over_the_coverage() -> None:
    reading = read_imprint([[1.0, 1.0, 1.0], [0.5, 0.5, 0.5]], 0.4)
    assert reading.evenness == pytest.approx(0.25 / 0.75)
    assert reading.effective_length == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("contact", "verdict"),
    [
        (even(0.0, 0.0, 0.0), "no record"),
        (even(0.04, 0.05, 0.05), "no record"),
        (even(0.05, 0.05, 0.05), "partial"),
        (even(1.0, 0.9, 0.8), "full"),
        (even(1.0, 0.9, 0.79), "partial"),
        (even(1.0, 1.0, 0.75), "partial"),
        ([[1.0, 1.0, 1.0], [0.81, 0.81, 0.81]], "partial"),
        ([[1.0, 1.0, 1.0], [0.6, 0.6, 0.6]], "partial"),
        ([[1.0, 1.0, 1.0], [0.59, 0.59, 0.59]], "uneven"),
        (even(0.6, 0.5, 0.2), "top only"),
        (even(0.6, 0.5, 0.21), "partial"),
        (even(0.59, 0.5, 0.2), "partial"),
        (even(0.2, 0.5, 0.6), "bottom only"),
        (even(0.5, 0.7, 0.9), "bottom only"),
        (even(0.51, 0.7, 0.9), "partial"),
        (even(0.6, 0.6, 0.6), "partial"),
    ],
)
def test_each_verdict_begins_at_its_limit(contact: Contact, verdict: Verdict) -> None:
    assert read_imprint(contact, 0.4).verdict == verdict


def test_every_finding_that_applies_is_listed() -> None:
    reading = read_imprint([[1.0, 0.8, 0.2], [0.2, 0.1, 0.0]], 0.4)
    assert (reading.verdict, reading.findings) == ("uneven", ("uneven", "top only"))


def test_a_blank_sheet_is_even_and_bears_on_nothing() -> None:
    reading = read_imprint(even(0.0, 0.0, 0.0), 0.4)
    assert (reading.evenness, reading.effective_length, reading.findings) == (0.0, 0.0, ("no record",))


@pytest.mark.parametrize("contact", [[], [0.5, 0.5, 0.5], [[0.5, 0.5]], [[0.5, 0.5, 0.5], [0.5]], [[0.5, 0.5, 1.1]]])
def test_a_sheet_that_is_no_sheet_is_refused(contact: Contact) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        read_imprint(contact, 0.4)
    assert (refused.value.argument, refused.value.value) == ("contact", contact)


@pytest.mark.parametrize(
    ("first", "step"),
    [
        ("no record", "do the test again"),
        ("full", "in service, recorded"),
        ("uneven", "out of service"),
        ("top only", "out of service"),
        ("bottom only", "out of service"),
        ("partial", "out of service"),
    ],
)
def test_the_first_test_says_again_in_or_out_of_service(first: Verdict, step: str) -> None:
    assert next_step(first).startswith(step)


@pytest.mark.parametrize(
    ("second", "step"),
    [
        ("no record", "do the test again"),
        ("full", "old slips worn or bent"),
        ("top only", "bushing, bowl or table worn"),
        ("partial", "bushing, bowl or table worn"),
        ("bottom only", "wrong size or bowl"),
        ("uneven", "mixed segments or dies, bent pipe"),
    ],
)
@pytest.mark.parametrize("first", ["uneven", "top only", "bottom only", "partial"])
def test_the_test_with_new_slips_tells_what_is_worn(first: Verdict, second: Verdict, step: str) -> None:
    assert next_step(first, second).startswith(step)


def test_readings_do_as_well_as_their_verdicts() -> None:
    first: Reading = read_imprint(even(0.6, 0.5, 0.2), 0.4)
    assert next_step(first, read_imprint(even(1.0, 1.0, 1.0), 0.4)) == next_step("top only", "full")


@pytest.mark.parametrize("first", ["no record", "full"])
def test_new_slips_are_not_tried_after_a_blank_or_a_full_sheet(first: Verdict) -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        next_step(first, "partial")
    assert refused.value.argument == "second"


def test_a_verdict_that_is_none_is_refused() -> None:
    with pytest.raises(MechanicsRangeError) as refused:
        next_step("good enough")  # type: ignore[arg-type]
    assert (refused.value.argument, refused.value.value) == ("first", "good enough")
