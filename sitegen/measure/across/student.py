"""Student's distribution: its lower tail, and the point that few values lie beyond.

In: degrees of freedom, whole or not. Out: plain floats, by the regularised incomplete beta function of mpmath.
"""

from __future__ import annotations

MOST = 100.0  # no limit of 99 % lies beyond, from one degree of freedom on
HALVINGS = 50  # of the span up to it: to 1e-13


def upper_tail(point: float, freedom: float) -> float:
    """The chance of a value above a point that is not negative, with so many degrees of freedom; to 1e-12."""
    from mpmath import betainc  # noqa: PLC0415 - only journals with many runs need it

    square = point**2
    if square < freedom:  # near the middle the tail is one half, less what is between
        return 0.5 - float(betainc(0.5, freedom / 2, 0, square / (freedom + square), regularized=True)) / 2
    return float(betainc(freedom / 2, 0.5, 0, freedom / (freedom + square), regularized=True)) / 2


def point_with_tail(tail: float, freedom: float) -> float:
    """The point above which a value lies with a chance below one half."""
    low, high = 0.0, MOST
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if upper_tail(middle, freedom) > tail else (low, middle)
    return (low + high) / 2
