"""The working behind a comparison: the test with its chance, the interval with its coverage, what was allowed for.

In: a `Contrast`, the names of its two sides. Out: lines of text, apart from the sentences that they are behind.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sitegen.core.facts.across import Contrast, Interval, Test
from sitegen.core.language.catalogue import tr, tr_n, tr_noop
from sitegen.core.language.wording import Wording
from sitegen.core.values.units import CANONICAL, Dimension

_TESTS: Mapping[Test, str] = {
    "order": tr_noop("Sign test, two-sided, {n} runs: p {p}."),
    "signs": tr_noop("Exact test of all signs of the differences, two-sided, {n} runs: p {p}."),
    "groups": tr_noop("Exact permutation test of the means of runs, two-sided, {n} runs: p {p}."),
    "welch": tr_noop("Welch’s t test of the means of runs, two-sided, {n} runs: p {p}."),
}
_INTERVALS: Mapping[Test, str] = {
    "order": tr_noop(
        "Median difference, {second} less {first}: {middle}; {coverage} % interval {low} to {high}."
    ),
    "signs": tr_noop(
        "Mean difference, {second} less {first}: {middle}; {coverage} % interval {low} to {high}."
    ),
    "groups": tr_noop(
        "Difference of means, {second} less {first}: {middle}; Welch’s {coverage} % interval {low} to {high}."
    ),
}
_SMALLEST = 0.0001


def working(contrast: Contrast, names: tuple[str, str], wording: Wording) -> tuple[str, ...]:
    """Test, interval and adjustment, one line each; the numbers of runs where there was no test."""
    return tuple(_lines(contrast, names, wording))


def _lines(contrast: Contrast, names: tuple[str, str], wording: Wording) -> Iterator[str]:
    found = contrast.evidence
    if found.test and found.chance is not None:
        decided = len(found.units(1)) + len(found.units(-1))
        number = decided if found.test == "order" else found.runs
        yield tr(_TESTS[found.test], n=number, p=_p(float(found.chance), wording))
    else:
        yield tr_n("No test: {n} run.", "No test: {n} runs.", found.runs)
    if found.difference is not None:
        yield _interval(contrast, found.difference, names, wording)
    if found.beside and found.adjusted is not None:
        p = _p(float(found.adjusted), wording)
        yield tr("Allowed for {n} comparisons (Holm): p {p}.", n=found.beside + 1, p=p)


def _interval(contrast: Contrast, found: Interval, names: tuple[str, str], wording: Wording) -> str:
    test = contrast.evidence.test
    unit = _unit(contrast)

    def said(value: float) -> str:
        return f"{wording.number(value, 1)}\u00a0{unit}"

    return tr(
        _INTERVALS["groups" if test == "welch" else test],
        first=names[0],
        second=names[1],
        middle=said(found.middle),
        low=said(found.low),
        high=said(found.high),
        coverage=wording.number(100 * found.coverage, 1),
    )


def _unit(contrast: Contrast) -> str:
    """The unit in which the values were computed."""
    dimension = next(
        (each.dimension for pair in contrast.pairs for each in (pair.first, pair.second) if each), None
    )
    if dimension is None:
        return ""
    if dimension is Dimension.DAYS:
        return tr("days")
    symbol = CANONICAL[dimension].symbol
    return f"{symbol}/m²" if contrast.measure == "square_metre" else symbol


def _p(chance: float, wording: Wording) -> str:
    if chance < _SMALLEST:
        return f"< {wording.number(_SMALLEST, 4)}"
    return f"= {wording.number(chance, 4)}"
