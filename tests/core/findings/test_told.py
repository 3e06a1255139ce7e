"""Findings as they are told: causes before what follows from them, findings of one kind once, and none lost."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.findings.causes import CAUSES
from sitegen.core.findings.codes import CODES, Severity
from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.findings.source import Source
from sitegen.core.findings.told import Told, told, without_values

RUN = "seasons/spring/crate/experiment.yaml"
_FILES = (
    RUN,
    "seasons/spring/crate/leaves.csv",
    "seasons/spring/bowl/experiment.yaml",
    "gear.yaml",
    "crops.yaml",
)
_WORDS = ("P1", "bowl", "systems", "day 5", "P4, P5", "")

_findings = st.builds(
    Finding,
    code=st.sampled_from(sorted(CODES)),
    source=st.builds(Source, st.sampled_from(_FILES), st.integers(1, 9), st.integers(1, 2)),
    message=st.sampled_from(
        ("`P1` on day 5", "`P2` on day 6", "`bowl` is not a key of `harvest`", "the plant `P1`")
    ),
    mend=st.sampled_from(("write `P1`", "write `P2`", "check it")),
    found=st.sampled_from(_WORDS),
    expected=st.sampled_from(("", "photos")),
)


def finding(code: str, line: int, message: str = "m", mend: str = "", file: str = RUN) -> Finding:
    """One finding of a run."""
    return Finding(code, Source(file, line), message, mend)


@given(st.lists(_findings, max_size=25))
def test_no_finding_is_lost(findings: list[Finding]) -> None:
    """What is told, with what is held back, is what was found: no more and no less."""
    items = sorted_findings(findings)
    shown = told(items)

    assert Counter(each for item in shown for each in (*item.kind, *item.held)) == Counter(items)


@given(st.lists(_findings, max_size=25))
def test_a_cause_holds_back_what_it_declares(findings: list[Finding]) -> None:
    """Every finding that is held back has a code that the cause in front of it declares."""
    for item in told(sorted_findings(findings)):
        declared = {code for cause in CAUSES.get(item.first.code, ()) for code in cause.holds}

        assert {each.code for each in item.held} <= declared


@given(st.lists(_findings, max_size=25))
def test_a_kind_has_one_code_and_one_wording(findings: list[Finding]) -> None:
    """Findings that are told as one differ in nothing but places and values."""
    for item in told(sorted_findings(findings)):
        assert {(each.code, without_values(each.message)) for each in item.kind} == {
            (item.first.code, without_values(item.first.message))
        }


def test_no_error_is_held_back_by_a_warning() -> None:
    """A cause is as severe as all that it holds back, so that `write` stops at something that is shown."""
    softer = [
        (code, held)
        for code, causes in CAUSES.items()
        for cause in causes
        for held in cause.holds
        if CODES[code] is Severity.WARNING and CODES[held] is Severity.ERROR
    ]

    assert softer == []


def test_all_codes_of_the_table_are_codes() -> None:
    """Causes and what they hold back are codes of findings."""
    names = {*CAUSES, *(held for causes in CAUSES.values() for cause in causes for held in cause.holds)}

    assert names - set(CODES) == set()


def test_a_cause_comes_before_what_lies_above_it() -> None:
    """A cause further down is told first where what it holds back stood."""
    early, other, cause = finding("never-sown", 3), finding("no-unit", 5), finding("sown-after-records", 9)

    assert told([early, other, cause]) == (Told(cause, (), (early,)), Told(other))


def test_a_cause_that_is_held_back_holds_nothing() -> None:
    """What follows from a consequence is shown, since its own cause declares nothing about it."""
    sowing, counts = finding("sown-after-records", 3), finding("seeds-unlike-counts", 3)
    seeds = finding("seeds-disagree", 7)

    assert told([sowing, counts, seeds]) == (Told(sowing, (), (counts, seeds)),)
    assert told([counts, seeds]) == (Told(counts, (), (seeds,)),)


def test_different_wordings_are_told_apart() -> None:
    """Findings with one code are of one kind where their words and those of their mends are the same."""
    first, second = (
        finding("no-unit", 3, "`height` is `9`", "write `9 cm`"),
        finding("no-unit", 4, "odd", "x"),
    )
    third = finding("no-unit", 9, "`height` is `12`", "write `12 cm`")

    assert told([first, second, third]) == (Told(first, (third,)), Told(second))


def test_unknown_names_of_the_library_are_told_once() -> None:
    """One system that is missing from gear.yaml is told once for all runs that stand in it."""
    one = finding("unknown-system", 6, "`bowl` is not a system of gear.yaml")
    other = finding(
        "unknown-system", 7, "`bowl` is not a system of gear.yaml", file="seasons/spring/b/experiment.yaml"
    )
    third = finding("unknown-system", 8, "`tray` is not a system of gear.yaml")

    assert told([one, other, third]) == (Told(one, (other,)), Told(third))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("`P1` was sown on day 3", "`P1`, `P2` and `P3` was sown on days 33-38"),
        ("1 day later", "28 days later"),
        ("about day 3 is before the start", "day -12 (2025-02-17) is before the start"),
        ("3 plants stand in `a`", "1 plant stands in `b`"),
        ("at least 9.5 cm", "12 cm"),
    ],
)
def test_values_are_masked(one: str, other: str) -> None:
    """Names, numbers, days and dates do not make another kind, nor do one and many."""
    assert without_values(one) == without_values(other)


def test_words_are_not_masked() -> None:
    """Units and words make another kind."""
    assert without_values("`P1` is 9 cm") != without_values("`P1` is 9 g")


def test_places_of_photos_are_told_once() -> None:
    """Photos that carry a place are of one kind in the whole journal, whatever their number."""
    found = [
        Finding("photo-location", Source(f"seasons/one/{run}/experiment.yaml"), message)
        for run, message in (
            ("a", "`b.jpg` carries it"),
            ("c", "`d.jpg` carries it, and so does 1 more photo"),
        )
    ]

    assert [(each.first, each.more) for each in told(found)] == [(found[0], (found[1],))]
