"""The table of causes: which findings each holds back, since they follow from it.

In: nothing. Out: `CAUSES` by code, in the order in which they are asked; `Cause`; `run_of`. A cause is at least as
severe as all that it holds back.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import NamedTuple

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import closest

Relation = Callable[[Finding, Finding], bool]


def run_of(finding: Finding) -> str:
    """The folder of the run that a finding lies in, `seasons/SEASON/RUN`; empty for any other."""
    parts = finding.source.file.split("/")
    return "/".join(parts[:3]) if len(parts) > 2 and parts[0] == "seasons" else ""


# What relates a cause to what follows from it, beside the codes.


def anything(_cause: Finding, _finding: Finding) -> bool:
    """In any case."""
    return True


def in_file(cause: Finding, finding: Finding) -> bool:
    """In the file of the cause."""
    return cause.source.file == finding.source.file


def below(cause: Finding, finding: Finding) -> bool:
    """In the file of the cause, further down: a log is written in the order of its days."""
    return in_file(cause, finding) and cause.source.line < finding.source.line


_DAY = re.compile(r"\bdays? -?\d+(?:-\d+)?")


def of_day(cause: Finding, finding: Finding) -> bool:
    """About the entry of the cause, or a gap to its day."""
    if not in_file(cause, finding):
        return False
    day = _DAY.search(cause.message)
    named = day is not None and re.search(rf"(?<![\w-]){re.escape(day[0])}(?![\w-])", finding.message)
    return cause.source.line == finding.source.line or bool(named)


def same_name(cause: Finding, finding: Finding) -> bool:
    """About the name that the cause is about."""
    return bool(cause.found) and cause.found == finding.found


def _of(file: str, key: str = "") -> Relation:
    """Of a cause in one file of the journal, about one key of it or nearly that, where one is given."""

    def holds(cause: Finding, _finding: Finding) -> bool:
        if cause.source.file != file:
            return False
        return not key or closest(cause.found, (key,)) == key or f"`{key}`" in cause.message

    return holds


def _meant(name: str) -> Relation:
    """Of a cause that is to have a name."""
    return lambda cause, _finding: cause.expected == name


def _named_in(file: str) -> Relation:
    """About a name that could not be taken from one file."""
    return lambda cause, finding: cause.source.file == file and same_name(cause, finding)


def _nearly_named(cause: Finding, finding: Finding) -> bool:
    """About a file whose name is nearly the one that the cause misses."""
    name = finding.source.file.rpartition("/")[2]
    return bool(closest(cause.found, (name,))) or finding.found in cause.mend


def _told_by_other(cause: Finding, finding: Finding) -> bool:
    """In another run, which looks for the run of the cause."""
    run = run_of(cause).rpartition("/")[2]
    return bool(run) and f"`{run}`" in finding.message


def _stands_for(cause: Finding, finding: Finding) -> bool:
    """Of a cause that is the folder, or the file of it that is missing."""
    folder = finding.source.file
    return cause.source.file in (folder, f"{folder}/experiment.yaml", f"{folder}/season.yaml")


def _names(cause: Finding, finding: Finding) -> bool:
    """About one of the names that the cause has found."""
    return finding.found in cause.found.split(", ")


def _lies_in(cause: Finding, finding: Finding) -> bool:
    """About the folder that the cause lies in, or the cause itself."""
    return f"{cause.source.file}/".startswith(f"{finding.source.file}/")


def _is_its_folder(cause: Finding, finding: Finding) -> bool:
    """About a run that is not read because of the cause."""
    return finding.found in cause.source.file.split("/")


def _is_photo_of(cause: Finding, finding: Finding) -> bool:
    """About a photo that the cause is, or a run whose photos it is."""
    name = cause.source.file.rpartition("/")[2]
    return name in ("photos", finding.found)


def _cut_from(file: str) -> Relation:
    """Of a cause that left names out of one file: a line, a key, a list; or all that is said of one name."""

    def holds(cause: Finding, finding: Finding) -> bool:
        whole = cause.code == "too-many-items" or cause.message.startswith(("this line ", "this key "))
        return cause.source.file == file and (whole or cause.message.startswith(f"`{finding.found}` "))

    return holds


def _is_block_of_gear(cause: Finding, _finding: Finding) -> bool:
    """Of a cause that is a whole block of gear.yaml."""
    return cause.source.file == "gear.yaml" and cause.found in _OF_GEAR


def _is_of_plants(cause: Finding, _finding: Finding) -> bool:
    """Of a cause that is a plant named twice."""
    return cause.message.startswith("the plant ")


_OF_KEY = re.compile(r"is not a key of `\w+`$")


def _names_a_subject(cause: Finding, finding: Finding) -> bool:
    """About a group that could not be read, below the cause: it is taken for a key of what it stands under."""
    of_plants = cause.code != "duplicate-id" or _is_of_plants(cause, finding)
    return of_plants and below(cause, finding) and bool(_OF_KEY.search(finding.message))


class Cause(NamedTuple):
    """The codes that a cause holds back; `own_run` only in its own run, `about` where the two are related so."""

    holds: frozenset[str]
    about: Relation = anything
    own_run: bool = True


def _cause(holds: Iterable[str], about: Relation = anything, *, own_run: bool = True) -> Cause:
    return Cause(frozenset(holds), about, own_run)


# What a file that is not read, and an entry that is not read, leave out.
_UNREAD = (
    "unreadable-file",
    "link-outside",
    "file-too-large",
    "not-utf8",
    "empty-file",
    "yaml-syntax",
    "yaml-anchor",
    "yaml-tag",
    "yaml-documents",
    "nested-too-deep",
)
_LEAVES_OUT = (
    "yaml-twist",
    "duplicate-key",
    "unknown-key",
    "missing-key",
    "wrong-type",
    "mixed-keys",
    "unknown-choice",
    "not-a-count",
    "not-a-quantity",
    "not-a-day",
    "not-a-date",
    "no-day",
    "not-a-selection",
    "count-of-what",
    "ambiguous-number",
    "unknown-plant",
    "which-plants",
)
_OF_GEAR = {
    "systems": ("unknown-system",),
    "lamps": ("unknown-lamp",),
    "meters": ("unknown-meter",),
    "products": ("unknown-product",),
}
_GEAR = tuple(code for codes in _OF_GEAR.values() for code in codes)
_CROPS = ("unknown-crop", "unknown-variety", "unknown-milestone")
# What cannot be reckoned where something is missing from a log.
RECKONED = (
    "never-sown",
    "nothing-sown",
    "too-many-sprouted",
    "seeds-disagree",
    "thinned-to-more",
    "count-of-plants",
    "count-went-down",
    "tally-below-picks",
    "tally-below-earlier",
    "milestone-back",
    "lost-plant",
)
# What is said of a day that is a wrong one.
_DAYS = ("before-start", "in-the-future", "after-the-end", "after-end-kept", "out-of-order", "long-gap")
# What an entry on a wrong day contradicts.
_OF_ENTRY = ("out-of-order", "long-gap", "never-sown", "lost-plant", "milestone-order", "shrunk")
_SEEDS = ("seeds-unlike-counts", "seeds-disagree", "too-many-sprouted", "thinned-to-more")
_OF_PLANTS = ("plants-too-few", "unknown-plant", "plant-left-out", "count-of-plants", *_SEEDS)
_SHAPE = ("duplicate-key", "unknown-key", "bad-id", "reserved-id", "wrong-type", "duplicate-id")


def _library(code: str) -> tuple[Cause, ...]:
    """What a fault in gear.yaml or crops.yaml makes unknown in every run."""
    if code in _UNREAD:
        return (
            _cause(_GEAR, _of("gear.yaml"), own_run=False),
            _cause(_CROPS, _of("crops.yaml"), own_run=False),
        )
    if code not in _SHAPE:
        return ()
    if code == "duplicate-key":  # the second block is not read, whatever it was meant to be
        return (_cause(_GEAR, _is_block_of_gear, own_run=False), *_named())
    by_key = tuple(_cause(codes, _of("gear.yaml", key), own_run=False) for key, codes in _OF_GEAR.items())
    return (*by_key, *_named())


def _named() -> tuple[Cause, ...]:
    files = (("gear.yaml", _GEAR), ("crops.yaml", _CROPS))
    return tuple(_cause(codes, _named_in(file), own_run=False) for file, codes in files)


def _cut_short() -> tuple[Cause, ...]:
    """What is unknown in every run where a part of gear.yaml or crops.yaml is longer than what is read."""
    files = (("gear.yaml", _GEAR), ("crops.yaml", _CROPS))
    return tuple(_cause(codes, _cut_from(file), own_run=False) for file, codes in files)


def _misnamed() -> tuple[Cause, ...]:
    return (
        _cause(_GEAR, _meant("gear.yaml"), own_run=False),
        _cause(_CROPS, _meant("crops.yaml"), own_run=False),
        _cause(("missing-file",), _lies_in, own_run=False),
        _cause(("missing-photo", "empty-strip"), _meant("photos")),
        _cause(("unknown-experiment",), _is_its_folder, own_run=False),
    )  # fmt: skip


_ALL_DAYS = (*_DAYS, "two-ends", "never-sown", "nothing-sown", "no-end", "plan-passed", "day-and-date")

CAUSES: dict[str, tuple[Cause, ...]] = {
    # a file of the journal
    "unread-runs": (
        _cause(("missing-file",), _lies_in, own_run=False),
        _cause(("unknown-experiment",), own_run=False),
    ),
    "misnamed-file": _misnamed(),
    "missing-file": (_cause(("unknown-experiment",), _is_its_folder, own_run=False),),
    **{code: (*_library(code), _cause(("missing-file",), _stands_for, own_run=False)) for code in _UNREAD},
    "link-outside": (
        *_library("link-outside"),
        _cause(("missing-file",), _stands_for, own_run=False),
        _cause(("missing-photo", "empty-strip"), _is_photo_of),
        _cause(("unknown-experiment",), _is_its_folder, own_run=False),
    ),
    "duplicate-id": (
        *_library("duplicate-id"),
        _cause(_OF_PLANTS, _is_of_plants),
        _cause(("unknown-key",), _names_a_subject),
    ),
    # one value of a set-up or a log that all else is reckoned with
    "start-unlike-log": (
        _cause((*_ALL_DAYS, "date-without-start", "sheet-unlike-run", "end-before-records", *RECKONED)),
    ),
    "sheet-unlike-run": (
        _cause((*_DAYS, "never-sown", "lost-plant", "no-end"), in_file),
        _cause(("long-gap",)),
    ),
    "crop-unlike-log": (_cause(("unknown-variety", "unknown-milestone", "unusual-value")),),
    "plants-too-few": (
        _cause(("unknown-plant",), _names),
        _cause(("plant-left-out", "count-of-plants", *_SEEDS)),
        _cause(("unknown-key",), _names_a_subject),
    ),
    "name-unlike-log": (_cause(("unknown-plant",), same_name),),
    "episode-too-short": (_cause(("chapter-late", "clip-late")),),
    "sown-after-records": (_cause(("never-sown", "out-of-order", "long-gap", *_SEEDS)),),
    "lost-before-records": (
        _cause(("lost-plant",), lambda cause, finding: finding.message.startswith(f"{cause.found} ")),
        _cause(("count-of-plants", "out-of-order", "long-gap")),
    ),
    "end-before-records": (_cause((*_DAYS, "two-ends")),),
    "seeds-unlike-counts": (_cause(_SEEDS[1:]),),
    # a name
    "missing-export": (_cause(("stray-file",), _nearly_named),),
    "missing-photo": (_cause(("stray-file",), _nearly_named),),
    "unknown-experiment": (_cause(("shared-one-sided",), _told_by_other, own_run=False),),
    "unknown-variety": (_cause(("plant-left-out",), in_file),),
    "plants-in-two": (_cause(("plant-left-out",), in_file),),
    # one entry on a wrong day
    "two-ends": (_cause(("after-the-end",), in_file),),
    "day-and-date": (_cause(_OF_ENTRY, of_day),),
    "before-start": (_cause(_OF_ENTRY, of_day),),
    "in-the-future": (_cause(("after-the-end", *_OF_ENTRY), of_day),),
    "after-the-end": (_cause(_OF_ENTRY, of_day),),
    "out-of-order": (_cause(("long-gap",), of_day),),
    # a value that is out of all measure
    "impossible-value": (_cause(("shrunk",), in_file),),
    "unusual-value": (_cause(("shrunk",), in_file),),
    # something that is not read
    **{code: (*_library(code), _cause(RECKONED, below)) for code in _LEAVES_OUT},
    "bad-id": _library("bad-id"),
    "reserved-id": _library("reserved-id"),
    **dict.fromkeys(("text-too-long", "too-many-items"), _cut_short()),
}
