"""The stores on which faults are tried, and how often: few times with every change, many with ``--full``."""

from __future__ import annotations

from tests.contract.conftest import databases, place

__all__ = ["databases", "place"]
