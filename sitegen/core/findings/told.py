"""Findings as they are told: a cause with its consequences held back, findings of one kind once.

In: sorted findings. Out: `Told`s. Nothing is lost: each finding is the first of its kind, one more of a kind, or held
back by a cause that declares its code (`core.findings.causes`). Two findings are of one kind where code, place and
words are the same but for the values in them.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from sitegen.core.findings.causes import CAUSES, Cause, run_of
from sitegen.core.findings.finding import Finding


@dataclass(frozen=True, slots=True)
class Told:
    """One finding that is shown, `more` of its kind, and those that are `held` back until it is mended."""

    first: Finding
    more: tuple[Finding, ...] = ()
    held: tuple[Finding, ...] = ()

    @property
    def kind(self) -> tuple[Finding, ...]:
        """All findings of the kind, in order."""
        return (self.first, *self.more)

    @property
    def one_mend(self) -> bool:
        """Whether all of the kind are mended in the same words."""
        return all(each.mend == self.first.mend for each in self.more)


def told(findings: Iterable[Finding]) -> tuple[Told, ...]:
    """Findings as they are told, in the order given; a cause comes before all that it holds back."""
    items = tuple(findings)
    holder = _holders(items)
    kinds: dict[tuple[str, ...], list[int]] = {}
    for place, finding in enumerate(items):
        if place not in holder:
            kinds.setdefault(_kind(finding), []).append(place)
    held: dict[int, list[int]] = defaultdict(list)
    for consequence, cause in sorted(holder.items()):
        held[cause].append(consequence)
    shown = []
    for places in kinds.values():
        behind = sorted(each for place in places for each in held[place])
        first, *more = (items[place] for place in places)
        order = min([places[0], *behind])
        # A cause before what else lies at its place.
        shown.append((order, not behind, Told(first, tuple(more), tuple(items[each] for each in behind))))
    return tuple(each for _, _, each in sorted(shown, key=lambda row: row[:2]))


def _holders(items: Sequence[Finding]) -> dict[int, int]:
    """The place of the cause of each finding that is held back. A cause that is held back itself holds nothing."""
    by_code: dict[str, list[int]] = defaultdict(list)
    by_run: dict[tuple[str, str], list[int]] = defaultdict(list)
    for place, finding in enumerate(items):
        by_code[finding.code].append(place)
        by_run[finding.code, run_of(finding)].append(place)
    holder: dict[int, int] = {}
    holding: set[int] = set()
    declared = (
        (cause, place)
        for code, causes in CAUSES.items()
        for cause in causes
        for place in by_code.get(code, ())
    )
    for cause, place in declared:
        if place in holder:
            continue
        for each in _in_reach(cause, items[place], by_code, by_run):
            # One that holds others back already is shown: they would have no cause that is.
            free = each != place and each not in holder and each not in holding
            if free and cause.about(items[place], items[each]):
                holder[each] = place
                holding.add(place)
    return holder


def _in_reach(
    cause: Cause,
    finding: Finding,
    by_code: dict[str, list[int]],
    by_run: dict[tuple[str, str], list[int]],
) -> Iterable[int]:
    """The findings that a cause may hold back by their code, in its run or in the whole journal."""
    run = run_of(finding)
    for code in sorted(cause.holds):
        yield from by_run.get((code, run), ()) if cause.own_run else by_code.get(code, ())


# kinds

# Findings about whole files are of one kind in one folder; those about a name of the library in the whole journal.
_OF_FOLDER = ("stray-file", "photo-")
_OF_JOURNAL = frozenset(
    {"unknown-crop", "unknown-variety", "unknown-system", "unknown-lamp", "unknown-meter", "unknown-product"}
)

_QUOTED = re.compile(r"`[^`]*`")
_NAMES = re.compile(r"`·`(?:, `·`)*(?: and `·`| or `·`)?")
_FLAG = re.compile(r"\b(?:about|before|at least|up to) (?=(?:days? )?-?\d)")
_DATE_BESIDE = re.compile(r" \(\d{4}-\d\d-\d\d\)")
_NUMBER = re.compile(r"-?\d+(?:[-.,:/]-?\d+)*")
_MANY = re.compile(r"# (\w\w+?)s\b")
_ONE = ((" were ", " was "), ("days #", "day #"), (" stand ", " stands "))


def _kind(finding: Finding) -> tuple[str, ...]:
    """The same for findings of one kind."""
    code, file = finding.code, finding.source.file
    if code == "photo-location":  # they are told where one asks for all of them
        return (code,)
    if code in _OF_JOURNAL:
        return code, "", finding.message, finding.mend
    place = file.rpartition("/")[0] if code.startswith(_OF_FOLDER) else file
    return code, place, without_values(finding.message), without_values(finding.mend)


@lru_cache(maxsize=4096)
def without_values(message: str) -> str:
    """A message with its values masked: names, numbers, days and dates; one and many read alike."""
    text = _NAMES.sub("·", _QUOTED.sub("`·`", message))
    text = _NUMBER.sub("#", _FLAG.sub("", _DATE_BESIDE.sub("", text)))
    for many, one in _ONE:
        text = text.replace(many, one)
    return _MANY.sub(r"# \1", text)
