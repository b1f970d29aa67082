"""Laws of lifting: every worse condition lowers the weight; shares balance the set."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trainer.mechanics import handle_shares, recommended_weight, team_capacity

LIFTS = st.fixed_dictionaries(
    {
        "horizontal": st.floats(0.0, 0.8),
        "vertical": st.floats(0.0, 2.0),
        "travel": st.floats(0.0, 2.0),
        "asymmetry_deg": st.floats(0.0, 150.0),
        "per_minute": st.floats(0.0, 18.0),
        "hours": st.floats(0.01, 8.0),
        "coupling": st.sampled_from(["good", "fair", "poor"]),
    }
)
WORSE_WHEN_MORE = ("horizontal", "travel", "asymmetry_deg", "per_minute", "hours")
LIMITS = {"horizontal": 0.8, "travel": 2.0, "asymmetry_deg": 150.0, "per_minute": 18.0, "hours": 8.0}


@given(lift=LIFTS, argument=st.sampled_from(WORSE_WHEN_MORE), share=st.floats(0.0, 1.0))
def test_more_of_anything_that_tires_lowers_the_weight(lift: dict[str, float], argument: str, share: float) -> None:
    more = lift[argument] + share * (LIMITS[argument] - lift[argument])
    eased, worse = recommended_weight(**lift), recommended_weight(**{**lift, argument: more})  # type: ignore[arg-type]
    assert 0 <= worse <= eased * (1 + 1e-12) <= 23 * (1 + 1e-9)


@given(lift=LIFTS, share=st.floats(0.0, 1.0))
def test_hands_further_from_knuckle_height_lower_the_weight(lift: dict[str, float], share: float) -> None:
    end = 0.0 if lift["vertical"] < 0.75 else 2.0
    away = {**lift, "vertical": lift["vertical"] + share * (end - lift["vertical"])}
    assume((away["vertical"] < 0.75) == (lift["vertical"] < 0.75))
    nearer, further = recommended_weight(**lift), recommended_weight(**away)  # type: ignore[arg-type]
    assert further <= nearer * (1 + 1e-12)


@given(lift=LIFTS)
def test_a_worse_grip_never_raises_the_weight(lift: dict[str, float]) -> None:
    grips = [recommended_weight(**{**lift, "coupling": grip}) for grip in ("good", "fair", "poor")]  # type: ignore[arg-type]
    assert grips == sorted(grips, reverse=True)


@given(
    mass=st.floats(1.0, 200.0),
    first=st.floats(-360.0, 360.0),
    gaps=st.tuples(st.floats(20.0, 160.0), st.floats(20.0, 160.0)),
    radius=st.floats(0.1, 1.0),
    offset=st.tuples(st.floats(-0.3, 0.3), st.floats(-0.3, 0.3)),
)
def test_shares_carry_the_weight_and_balance_its_moments(
    mass: float, first: float, gaps: tuple[float, float], radius: float, offset: tuple[float, float]
) -> None:
    angles = (first, first + gaps[0], first + sum(gaps))
    shares = handle_shares(mass, angles, radius, offset)
    theta = np.radians(angles)
    largest = float(np.abs(shares).max()) + mass
    assert shares.sum() == pytest.approx(mass, abs=1e-9 * largest)
    assert shares @ np.cos(theta) * radius == pytest.approx(mass * offset[0], abs=1e-9 * largest)
    assert shares @ np.sin(theta) * radius == pytest.approx(mass * offset[1], abs=1e-9 * largest)


@given(team=st.lists(st.floats(0.0, 100.0), min_size=1, max_size=3))
def test_a_team_never_lifts_more_than_its_sum(team: list[float]) -> None:
    assert 0 <= team_capacity(team) <= sum(team)
    assert team_capacity(team) == pytest.approx(team_capacity(team[::-1]))
