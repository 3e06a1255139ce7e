"""Shares of small counts with their interval.

In: counts. Out: `Share`. Never guesses a count: where part and whole disagree there is no share.
"""

from __future__ import annotations

import math

from sitegen.core.facts.figure import Share
from sitegen.measure.methods import formula

Z_95 = 1.959963984540054  # 97.5 % point of the standard normal distribution


@formula
def wilson_interval(part: int, whole: int) -> tuple[float, float]:
    """Share with its 95 % interval.

    So many of so many, and the range of true shares that such a count is compatible with. It stays between
    0 and 1 and holds for counts as small as a seed tray.

    Parameters
    ----------
    part
        How many did [count], 0 to `whole`.
    whole
        Out of how many [count], at least 1.

    Returns
    -------
    tuple[float, float]
        Lower and upper limit [share from 0 to 1]; exactly 0 below for none, exactly 1 above for all.

    Notes
    -----
    With p = part / whole, n = whole and z = 1.959964::

        (p + z²/2n ± z √(p(1-p)/n + z²/4n²)) / (1 + z²/n)

    It assumes that seeds or plants did or did not independently of each other; those sharing one tub may not.

    References
    ----------
    Wilson, E. B. (1927). Probable inference, the law of succession, and statistical inference. Journal of
    the American Statistical Association 22, 209-212.

    Newcombe, R. G. (1998). Two-sided confidence intervals for the single proportion. Statistics in Medicine
    17, 857-872 (method 3).

    """
    if whole < 1 or not 0 <= part <= whole:
        raise ValueError(f"no share: {part} of {whole}")
    p, z_squared = part / whole, Z_95 * Z_95
    centre = p + z_squared / (2 * whole)
    reach = Z_95 * math.sqrt(p * (1 - p) / whole + z_squared / (4 * whole * whole))
    scale = 1 + z_squared / whole
    # On paper these are 0 and 1; in floating point they would miss by the last digit.
    low = 0.0 if part == 0 else (centre - reach) / scale
    high = 1.0 if part == whole else (centre + reach) / scale
    return low, high


def share_of(part: int, whole: int) -> Share | None:
    """A share with its interval; None where the two counts cannot both be true."""
    if whole < 1 or not 0 <= part <= whole:
        return None
    return Share(part, whole, *wilson_interval(part, whole))
