"""Laws of the paper test: one verdict, the first that applies, and every finding in that order."""

from __future__ import annotations

from random import Random
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.mechanics import Reading, Verdict, next_step, read_imprint

MARK = st.sampled_from([0.0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.6, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0]) | st.floats(0.0, 1.0)
SHEETS = st.lists(st.lists(MARK, min_size=3, max_size=3), min_size=1, max_size=8)
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)


@given(sheet=SHEETS)
def test_the_verdict_is_the_first_finding_and_findings_keep_their_order(sheet: list[list[float]]) -> None:
    reading = read_imprint(sheet, 0.4)
    places = [VERDICTS.index(finding) for finding in reading.findings]
    assert reading.verdict == reading.findings[0]
    assert places == sorted(set(places))
    assert "partial" not in reading.findings or reading.findings == ("partial",)


@given(sheet=SHEETS)
def test_findings_that_exclude_each_other_never_meet(sheet: list[list[float]]) -> None:
    findings = set(read_imprint(sheet, 0.4).findings)
    assert not {"top only", "bottom only"} <= findings
    assert "full" not in findings or findings == {"full"}


@given(sheet=SHEETS, order=st.randoms(use_true_random=False))
def test_the_order_of_the_segments_does_not_matter(sheet: list[list[float]], order: Random) -> None:
    shuffled = list(sheet)
    order.shuffle(shuffled)
    one, other = read_imprint(sheet, 0.4), read_imprint(shuffled, 0.4)
    assert one.coverage == pytest.approx(other.coverage, abs=1e-12)
    assert one.verdict == other.verdict


@given(sheet=SHEETS)
def test_figures_stay_within_the_sheet(sheet: list[list[float]]) -> None:
    reading: Reading = read_imprint(sheet, 0.4)
    assert 0 <= reading.coverage <= 1 + 1e-12
    assert sum(reading.thirds) / 3 == pytest.approx(reading.coverage, abs=1e-12)
    assert reading.evenness >= 0
    assert reading.effective_length == pytest.approx(0.4 * reading.coverage)


@given(first=st.sampled_from(VERDICTS), second=st.sampled_from(VERDICTS))
def test_a_set_goes_into_service_on_a_full_first_sheet_only(first: Verdict, second: Verdict) -> None:
    assert next_step(first).startswith("in service") == (first == "full")
    if first not in ("no record", "full"):
        assert not next_step(first, second).startswith("in service")
