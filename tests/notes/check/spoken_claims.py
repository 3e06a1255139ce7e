"""A table of spoken claims with the verdict that a person who knows the log gives, and how the checker judges each.

In: `spoken/claims.tsv`. Out: `Row`s, and those that are misjudged. `python -m tests.notes.check.spoken_claims` prints the
shares; every third row is held back: measure it before rules are made for it.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from sitegen.notes.check.verdicts import Outcome, Verdict
from tests.notes.check.checking import checked

TABLE = Path(__file__).parent / "spoken" / "claims.tsv"
_OUTCOMES = {
    "right": Outcome.RIGHT,
    "say": Outcome.SAY,
    "wrong": Outcome.WRONG,
    "open": Outcome.NOT_PLACED,
}


class Row(NamedTuple):
    """One claim; `number` are the words that are judged, `-` where nothing may be told right or wrong."""

    at: int
    run: str
    language: str
    spoken: str
    number: str
    verdict: str
    figure: str

    @property
    def held_back(self) -> bool:
        """Whether it is measured before rules are made for it."""
        return self.at % 3 == 2

    @property
    def outcomes(self) -> frozenset[Outcome]:
        """The verdicts that are fair."""
        return frozenset(_OUTCOMES[each] for each in self.verdict.split("/"))


def table() -> tuple[Row, ...]:
    """All rows."""
    lines = [line for line in TABLE.read_text("utf-8").splitlines() if line and not line.startswith("#")]
    return tuple(Row(at, *line.split("\t")) for at, line in enumerate(lines))


def judged(row: Row) -> tuple[Verdict, ...]:
    """The verdicts that a row is about."""
    every = checked(row.run, row.spoken, language=row.language).claims
    if row.number == "-":
        return every
    return tuple(each for each in every if row.number in " ".join(each.claim.words.split()))


def as_a_person_would(row: Row) -> bool:
    """Whether the verdict is a fair one, and is of the right figure."""
    verdicts = judged(row)
    if row.number == "-":
        return all(each.outcome is Outcome.NOT_PLACED for each in verdicts)
    if not verdicts:
        return Outcome.NOT_PLACED in row.outcomes
    return any(_fair(row, each) for each in verdicts) and all(
        each.outcome in row.outcomes for each in verdicts
    )


def _fair(row: Row, verdict: Verdict) -> bool:
    if verdict.outcome is Outcome.NOT_PLACED:
        return Outcome.NOT_PLACED in row.outcomes
    told = verdict.text.partition("; that ")[0]
    return verdict.outcome in row.outcomes and all(part in told for part in row.figure.split(" & "))


def upside_down(row: Row) -> bool:
    """Whether what is true is told wrong, or what is false right: worse than not placed."""
    outcomes = {each.outcome for each in judged(row)}
    if row.number == "-":
        return bool(outcomes - {Outcome.NOT_PLACED})
    if Outcome.WRONG in row.outcomes:
        return bool(outcomes & {Outcome.RIGHT, Outcome.SAY})
    return Outcome.WRONG in outcomes


def _share(rows: Sequence[Row]) -> str:
    fair, over = sum(map(as_a_person_would, rows)), sum(map(upside_down, rows))
    return f"{fair} of {len(rows)} ({100 * fair / len(rows):.0f} %), upside down {over}"


if __name__ == "__main__":
    rows = table()
    for name, part in (("tuned", False), ("held back", True)):
        print(f"{name}: {_share([row for row in rows if row.held_back is part])}")
    for row in rows:
        if (not row.held_back or "all" in sys.argv) and not as_a_person_would(row):
            said = [f"{each.claim.words}: {each.text}" for each in judged(row)]
            mark = "!!" if upside_down(row) else "  "
            print(
                f"{mark} {row.at} {row.run} | {row.spoken} | {row.number} | {row.verdict}: {row.figure} | {said}"
            )
