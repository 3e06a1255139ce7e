"""An entry planned: where it goes, which day it gets, what is found in it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.filing.entries.append import CannotAppendError
from sitegen.filing.words.known import Known
from sitegen.pipeline.filing import planning as module
from sitegen.pipeline.filing.planning import opened_run, plan_entry
from tests.journal_maker import make_journal

TODAY = date(2026, 3, 20)
SETUP = """\
format: 1
title: Leaves in a tray
crop: leaf
system: tray
start: {start}
plants: 2
groups: {{left: P1}}
log:
"""
LOG = "  - day: 0\n    sow: 2 a spot\n  - day: 6\n    height: 2 cm\n"
ONE = "seasons/one/one/experiment.yaml"


def bench(folder: Path, log: str = LOG, start: str = "2026-03-01", **more: str) -> Path:
    """A journal with one experiment."""
    return make_journal(folder / "bench", {"one": SETUP.format(start=start) + log, **more})


@pytest.mark.parametrize(
    ("start", "log", "day"),
    [
        ("2026-03-01", LOG, "day: 19"),
        ("2026-03-20", LOG, "day: 0"),
        ("2026-03-21", LOG, "date: 2026-03-20"),
        ("2026-03", LOG, "date: 2026-03-20"),
        ("2026-03-01", LOG + "  - date: 2026-03-08\n    height: 3 cm\n", "date: 2026-03-20"),
        ("2026-03-01", "  - date: 2026-03-01\n    sow: 2 a spot\n  - day: 6\n    height: 2 cm\n", "day: 19"),
        ("2026-03-01", "  - {day: 0, sow: 2 a spot}\n", "date: 2026-03-20"),
        ("2026-03-01", "  - note: sown\n    day : 0\n", "day: 19"),
    ],
    ids=["day", "the start", "before it", "a month", "last a date", "last a day", "in braces", "not first"],
)
def test_today_is_written_as_the_log_writes_days(tmp_path: Path, start: str, log: str, day: str) -> None:
    """By its number where the last entry has one and the start is certain, else by its date."""
    root = bench(tmp_path, log, start)

    assert opened_run(root, "one", TODAY).today_as_written() == day


def test_today_without_a_start_has_no_day(tmp_path: Path) -> None:
    """It is said what to give instead."""
    with pytest.raises(CannotAppendError) as caught:
        opened_run(bench(tmp_path, start="unknown"), "one", TODAY).today_as_written()

    assert (caught.value.message, caught.value.mend) == (
        "the start is not known, so today has no day",
        "say the day: `--day 26`",
    )


@pytest.mark.parametrize(
    ("day", "after"),
    [
        ("day: 3", "  - day: 0\n    sow: 2 a spot\n  - day: 3\n    note: x\n  - day: 6\n    height: 2 cm\n"),
        ("day: 6", LOG + "  - day: 6\n    note: x\n"),
        ("day: 7", LOG + "  - day: 7\n    note: x\n"),
        ("day: 5-6", LOG + "  - day: 5-6\n    note: x\n"),
        ("date: 2026-03-04", "  - day: 0\n    sow: 2 a spot\n  - date: 2026-03-04\n    note: x\n" + LOG[29:]),
    ],
)
def test_an_entry_goes_before_those_of_later_days(tmp_path: Path, day: str, after: str) -> None:
    """After all of its own day and before the first of a later one."""
    planned = plan_entry(bench(tmp_path), "one", day, "note: x", TODAY)

    assert planned.after.decode("utf-8") == SETUP.format(start="2026-03-01") + after
    assert (planned.findings, planned.readable) == ((), True)


def test_a_log_out_of_order_keeps_its_order(tmp_path: Path) -> None:
    """Only the entries right above the end are looked at."""
    log = "  - day: 9\n    height: 3 cm\n  - day: 2\n    height: 1 cm\n  - day: 8\n    height: 3 cm\n"
    planned = plan_entry(bench(tmp_path, log), "one", "day: 5", "note: x", TODAY)

    first, last = log[: log.index("  - day: 8")], log[log.index("  - day: 8") :]
    assert planned.after.decode("utf-8") == (
        f"{SETUP.format(start='2026-03-01')}{first}  - day: 5\n    note: x\n{last}"
    )


@pytest.mark.parametrize(
    ("text", "entry"),
    [
        ("height: 9 cm", "height: 9 cm"),
        ("ph: five point eight", "ph: 5.8"),
        ("height: P1 is 9 cm, P2 is 8 cm", "height: {P1: 9 cm, P2: 8 cm}"),
        ("height: nine furlongs", "height: nine furlongs"),
        ([("height", "9 cm"), ("note", "x")], "height: 9 cm\n    note: x"),
        (["ph: 6", "water: 1 L"], "ph: 6\n    water: 1 L"),
    ],
)
def test_what_cannot_stand_as_it_is_is_read_as_words(
    tmp_path: Path, text: str | list[str] | list[tuple[str, str]], entry: str
) -> None:
    """Where that brings fewer errors; pairs are taken as they are."""
    planned = plan_entry(bench(tmp_path), "one", "day: 7", text, TODAY)

    assert planned.after.decode("utf-8") == (
        f"{SETUP.format(start='2026-03-01')}{LOG}  - day: 7\n    {entry}\n"
    )


def test_words_that_bring_as_many_errors_are_not_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the author wrote stands then."""
    run = opened_run(bench(tmp_path), "one", TODAY)
    given: list[dict[str, bool]] = []
    original = module.meant

    def noted(texts, known, **options):  # type: ignore[no-untyped-def]
        given.append(options)
        return original(["height: P9: 9 cm" if options else "height: {P9: 9 cm}"], known)

    monkeypatch.setattr(module, "meant", noted)
    planned = run.planned("day: 7", "height: {P9: 9 cm}")

    assert given == [{}, {"as_words": True}]
    assert len(planned.errors) == 1
    assert planned.understood.fields == (("height", "{P9: 9 cm}"),)


def test_what_the_rules_for_words_are_told(tmp_path: Path) -> None:
    """The names of the run and of the journal; of one that cannot be read, nothing."""
    root = bench(tmp_path, broken="title: [")
    settings = root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8") + "units: us\nlanguage: de\n", "utf-8")

    assert opened_run(root, "one", TODAY).known == Known(
        plants=("P1", "P2"),
        groups=(("left", ("P1",)),),
        products=(("mix", "Plain mix", "feed"),),
        crop_kind="leafy",
        crop="Leaf lettuce",
        language="de",
        units="us",
    )
    assert opened_run(root, "broken", TODAY).known == Known()


TUBS = SETUP.replace(
    "system: tray\n", "tubs:\n  a: {{system: tray, plants: P1}}\n  b: {{system: tray, plants: P2}}\n"
)


def test_tubs_are_named_where_there_are_two(tmp_path: Path) -> None:
    """With one, nobody says which."""
    root = bench(tmp_path, two=TUBS.format(start="2026-03-01") + LOG)

    assert opened_run(root, "two", TODAY).known.tubs == ("a", "b")
    assert opened_run(root, "one", TODAY).known.tubs == ()


def test_a_run_that_cannot_be_read_is_planned_as_it_is(tmp_path: Path) -> None:
    """All that stands against it is told, with what is wrong in the journal's own files."""
    root = bench(tmp_path)
    (root / ONE).write_text("title: [", "utf-8")
    (root / "journal.yaml").write_text("format: 1\ntitle: Test bench\ntilte: x\n", "utf-8")
    planned = plan_entry(root, "one", "day: 7", "note: x", TODAY)

    assert (planned.readable, planned.change, planned.after) == (False, None, b"title: [")
    assert planned.before == planned.after
    assert {each.source.file for each in planned.findings} == {"journal.yaml", ONE}


def test_a_journal_that_cannot_be_read(tmp_path: Path) -> None:
    """Only that is told, and the file is as it was."""
    root = bench(tmp_path)
    (root / "journal.yaml").write_text("title: [", "utf-8")
    run = opened_run(root, "one", TODAY)

    assert (run.run, run.journal_files, run.content) == (None, None, (root / ONE).read_bytes())
    assert [each.source.file for each in run.findings] == ["journal.yaml"]
    assert not run.planned("day: 7", "note: x").readable


def test_a_log_outside_of_the_journal_is_not_opened(tmp_path: Path) -> None:
    """A link that leads out is told, and has no content."""
    root = bench(tmp_path)
    (root / ONE).rename(tmp_path / "other.yaml")
    (root / ONE).symlink_to(tmp_path / "other.yaml")
    run = opened_run(root, "one", TODAY)

    assert (run.content, run.run, [each.code for each in run.findings]) == (b"", None, ["link-outside"])


def _finding(code: str, message: str, line: int = 1) -> Finding:
    return Finding(code, Source(ONE, line), message)


def test_only_what_an_entry_brings_is_told() -> None:
    """Lines and values of what was there may have moved; a second of the same kind is new, in the order found."""
    before = [_finding("long-gap", "20 days without an entry", 8), _finding("no-unit", "`9` has no unit")]
    after = [
        _finding("long-gap", "26 days without an entry", 12),
        _finding("no-unit", "`9` has no unit", 3),
        _finding("no-unit", "`8` has no unit", 4),
        _finding("no-end", "20 days without an entry"),
    ]

    assert module._brought(before, after) == (after[2], after[3])
    assert module._brought([], after) == tuple(after)
    assert module._brought(after, before) == ()


def test_warnings_beside_an_error_are_not_told(tmp_path: Path) -> None:
    """What could not be read is missing: a warning about its absence would be false."""
    gap = "  - day: 0\n    sow: 2 a spot\n  - day: 18\n    height: {}\n"
    sound = opened_run(bench(tmp_path / "a", gap.format("9 cm")), "one", date(2026, 12, 1))
    broken = opened_run(bench(tmp_path / "b", gap.format("9 parsecs")), "one", date(2026, 12, 1))

    assert [each.code for each in sound.findings] == ["no-end"]
    assert [each.code for each in broken.findings] == ["unknown-unit"]


SHARES = "shares: {{with: {}}}\n"


def test_a_shared_tub_is_judged_beside_the_other_run(tmp_path: Path) -> None:
    """What the other log contradicts is found; itself, or what is not there, is read from nowhere."""
    runs = {
        name: SETUP.format(start=start).replace("log:", f"{SHARES.format(other)}log:") + LOG
        for name, other, start in (
            ("early", "late", "2025-01-01"),
            ("late", "early", "2026-03-01"),
            ("lone", "lone", "2026-03-01"),
            ("lost", "nowhere", "2026-03-01"),
            ("sided", "one", "2026-03-01"),
        )
    }
    root = bench(tmp_path, **runs)
    early = root / "seasons/one/early/experiment.yaml"
    early.write_text(
        early.read_text("utf-8") + "  - day: 9\n    end: {why: slow, plants: cleared}\n", "utf-8"
    )

    found = {run: [each.code for each in opened_run(root, run, TODAY).findings] for run in runs}
    assert found == {
        "early": ["never-shared", "no-answer"],
        "late": [],  # a contradiction of two is found once
        "lone": ["shares-itself"],
        "lost": ["unknown-experiment"],
        "sided": ["shared-one-sided"],
    }


def test_a_run_that_shares_nothing_is_judged_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The other folders are listed once, to find its own."""
    listed: list[Path] = []
    original = module.experiments
    monkeypatch.setattr(module, "experiments", lambda root: listed.append(root) or original(root))
    root = bench(tmp_path)
    opened_run(root, "one", TODAY)

    assert listed == [root]
