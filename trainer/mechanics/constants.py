"""Steel, gravity and the exact unit factors behind the tables."""

from __future__ import annotations

GRAVITY = 9.80665
"""Standard acceleration of free fall g [m/s²]; CGPM 1901, exact."""

YOUNG = 206.843e9
"""Young's modulus E of drill-pipe steel [Pa]: 30e6 psi, API RP 7G."""

POISSON = 0.28
"""Poisson's ratio ν of steel [-]."""

STEEL_DENSITY = 7850.0
"""Density ρs of steel [kg/m³]."""

INCH = 0.0254
"""One inch [m], exact."""

POUND_FORCE = 4.4482216152605
"""One pound-force [N], exact."""

POUND_PER_FOOT = 0.45359237 / 0.3048
"""One pound (mass) per foot [kg/m], exact: 1.48816."""

KSI = 1000 * POUND_FORCE / INCH**2
"""One thousand pounds-force per square inch [Pa], exact."""
