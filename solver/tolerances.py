"""The one place that holds tolerances, each with its reason, and the one function that decides 'zero'."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

ZERO = 1e-9
"""A force up to this share of its scale is zero: well above the rounding of refined forces (1e-12 of
the scale), well below any force that an engineer would act on."""

TIE = 1e-9
"""Extremes that differ by no more than this share of the larger count as equal, so that rounding does
not choose which combination, position or joint is named."""

DIRECTION = 1e-9
"""What is left of a unit vector outside a span counts as a direction of its own from here up: unit
vectors of written coordinates carry errors of about 1e-16."""

NOISE = 1e-12
"""Computed true zeros stay below this share of their scale; tables write them as 0, and load
cases that cancel in a combination up to this share of the largest of them are none together."""

NO_LOAD = 1e-12
"""A joint load up to this share of its largest contribution is none: contributions that cancel on
paper leave a few units of 1e-16 behind."""

SAME_POSITION = 1e-12
"""Positions along a chord nearer than this share of the whole travel are one: the decimals of axle
distances and panels meet exactly on paper."""

ROUNDING = 1e-15
"""A joint imbalance of so few roundings, over the scale, cannot be refined away."""

BALANCED = 1e-13
"""Refinement with a sound factor ends below this share of the scale; above it the factor was not."""

IMBALANCE = 1e-9
"""A reported state may miss joint equilibrium by this share of its scale, no more."""

RELEASED = 1e-11
"""What a member gives up may leave joints unbalanced, or bars unfit, by this share of the largest force in
play: two digits inside the 1e-9 to which results are trusted."""

CONDITION = 1e9
"""Largest member force per unit joint load: from here up nine digits of a force are lost."""

LARGE_FORCE = 1e4
"""Largest member force per unit joint load from which a form is near-critical whatever moving its joints
does: trusses of hundreds of panels stay in the hundreds, forms within a fabrication tolerance of a
critical one reach it."""

FABRICATION = 1 / 5000
"""How far, as a share of the span, joints may lie from where they were drawn (common practice)."""

SHAPE_SENSITIVE = 1.5
"""The worst force per unit load changes by a smaller factor when joints of a sound truss move by
FABRICATION; in a near-critical form it changes many times over."""


def zero_band(scale: ArrayLike, zero_limit: float) -> NDArray[np.float64]:
    """Return the largest absolute value [N] that counts as zero at `scale` [N] under `zero_limit` [N].

    >>> zero_band([1e6, 1.0], 2e-9).tolist()
    [0.001, 2e-09]
    """
    return np.asarray(np.maximum(ZERO * np.asarray(scale, dtype=float), zero_limit))


def is_zero(values: ArrayLike, scale: ArrayLike, zero_limit: float = 0.0) -> NDArray[np.bool_]:
    """Tell which `values` [N] are zero against their `scale` [N]; the arrays broadcast.

    >>> is_zero([1e-4, -2e-3], 1e6)
    array([ True, False])
    """
    return np.asarray(np.abs(np.asarray(values, dtype=float)) <= zero_band(scale, zero_limit))
