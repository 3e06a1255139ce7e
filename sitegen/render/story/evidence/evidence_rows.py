"""What may be said of two varieties or systems, by what there is: the decision table as the methods page shows it.

In: nothing. Out: `EvidenceRow`s, in the order of the table, and what is counted as one.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitegen.core.language.catalogue import tr, tr_noop


@dataclass(frozen=True, slots=True)
class EvidenceRow:
    """What there is, and what may be said of it."""

    there_is: str
    said: str


_ROWS = (
    (
        tr_noop("one run with both"),
        tr_noop("what these tubs gave this one time, and by how much they differed"),
    ),
    (
        tr_noop("two to five runs with both"),
        tr_noop("in how many of them one was ahead, and how often luck alone would do that"),
    ),
    (
        tr_noop("six or more runs with both"),
        tr_noop(
            "evidence, if luck alone would do it less than one time in twenty; if not, no evidence "
            "either way, with the range of the difference"
        ),
    ),
    (
        tr_noop("runs with only one of the two, fewer than four of one of them"),
        tr_noop("only that these runs differ in more than the variety or the system"),
    ),
    (
        tr_noop("runs with only one of the two, four or more of each"),
        tr_noop("as for six runs with both, and that they differ in more than what is compared"),
    ),
    (
        tr_noop("a harvest not weighed in full, a value by eye, a day that was not reached"),
        tr_noop(
            "which was ahead if the two do not overlap, and by how much at least; if they overlap, "
            "that it is not clear"
        ),
    ),
)
_COUNTED = (
    tr_noop("Runs count, not plants: plants in one tub share water, light and luck."),
    tr_noop(
        "Runs in one tub at the same time count once. A log does not name its tub for others: where more tubs of a "
        "system were in use at once than there are (`count` in gear.yaml), the runs in them count once."
    ),
    tr_noop(
        "A run without a date is left out where it may have shared a tub with another, and so is "
        "a copy of a log."
    ),
    tr_noop("Where several pairs are compared, each chance is raised to allow for the others (Holm)."),
)


def evidence_rows() -> tuple[EvidenceRow, ...]:
    """The table in the active language."""
    return tuple(EvidenceRow(tr(there_is), tr(said)) for there_is, said in _ROWS)


def counting_rules() -> tuple[str, ...]:
    """What counts as one run, in the active language."""
    return tuple(tr(rule).replace("`", "") for rule in _COUNTED)
