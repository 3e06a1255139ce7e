"""The file of an experiment: its set-up, its log, its rules, its figures; and the names of files in a journal."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import datetime as dt
import json
import os
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

from sitegen.app.console.report import findings_text
from sitegen.core.facts.data import facts_data
from sitegen.core.findings.finding import Finding
from sitegen.core.language.wording import Wording
from sitegen.filing.mending import StaleError, edited
from sitegen.ingest import ExperimentFolder, JournalFiles, read_experiment, read_journal, read_records
from sitegen.judge import judge
from sitegen.measure import measure
from tests.cases import BASE
from tests.fuzz.target import Run, Target, hold
from tests.fuzz.targets.journals import DEMO, KEYS, RUN, WORDS, printed_journal, report, texts
from tests.photos.pictures import picture, png

TODAY = dt.date(2026, 11, 28)


def opened(folder: Path) -> tuple[JournalFiles, ExperimentFolder]:
    """The printed journal, and its experiment."""
    files, findings = read_journal(printed_journal(folder))
    assert files is not None
    assert not findings
    return files, next(each for each in files.folders if each.path.match(RUN))


def _journals(folder: Path) -> Callable[[bytes], tuple[JournalFiles, ExperimentFolder]]:
    """Small journals, and the one whose library has the crop that a file names; else the printed one."""
    known = [opened(folder)]
    for name, source in (("base", BASE), ("demo", DEMO)):
        root = folder / name
        for path in (*source.glob("*.yaml"), *source.rglob("season.yaml")):
            (root / path.relative_to(source)).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, root / path.relative_to(source))
        home = next(root.rglob("season.yaml")).parent / "run"
        home.mkdir()
        shutil.copy(known[0][1].path / "experiment.yaml", home)
        files, _ = read_journal(root)
        assert files is not None
        known.append((files, files.folders[0]))
    crops = [(crop.id, each) for each in known for crop in each[0].library.crops]

    def chosen(data: bytes) -> tuple[JournalFiles, ExperimentFolder]:
        found = _CROP.search(data)
        crop = found[1].decode() if found else ""
        return next((each for name, each in crops if name == crop), known[0])

    return chosen


_CROP = re.compile(rb"^crop: ([a-z-]+)", re.MULTILINE)


def _read(folder: Path) -> Run:
    journal_of = _journals(folder)

    def run(data: bytes) -> object:
        files, home = journal_of(data)
        found, findings = read_records(home, files, None, data, headers=False)
        if found is not None:
            findings = (*findings, *judge(found, TODAY))
        hold(bool(findings_text(findings, files.root)) == bool(findings), "a finding that is not told")
        _mends(data, findings)
        return found, report(findings)

    return run


def _mends(data: bytes, findings: tuple[Finding, ...]) -> None:
    """What a finding offers to write can be written, where the file is UTF-8."""
    try:
        data.decode()
    except UnicodeDecodeError:
        return
    for finding in findings:
        if finding.edits and finding.safe:
            try:
                after = edited(data, finding.edits)
            except StaleError as error:
                hold(False, f"the mend of {finding.code} does not fit: {error}")
            hold(after != data, f"the mend of {finding.code} changes nothing")


def _measured(folder: Path) -> Run:
    journal_of = _journals(folder)
    says = [Wording("metric", "en").say, Wording("us", "de").say]

    def run(data: bytes) -> object:
        files, home = journal_of(data)
        found, findings = read_records(home, files, None, data, headers=False)
        # A run with an error is never measured.
        if found is None or any(f.is_error for f in (*findings, *judge(found, TODAY))):
            return report(findings)
        facts = measure(found, files.journal.prices)
        told = [json.dumps(facts_data(facts, say), allow_nan=False) for say in says]
        hold(
            all(json.dumps(json.loads(text)) == text for text in told), "the figures are not the same as JSON"
        )
        return told

    return run


def _names(folder: Path) -> Run:
    files, home = opened(folder)
    body = png(picture((64, 64)))

    def run(data: bytes) -> object:
        root = folder / "copy"
        home_there = root / RUN
        (home_there / "photos").mkdir(parents=True)
        try:
            shutil.copy(files.root / "journal.yaml", root)
            shutil.copy(home.path / "experiment.yaml", home_there)
            (home_there.parent / "season.yaml").write_bytes(b"format: 1\ntitle: A season\n")
            for name in data.split(b"\n")[:8]:
                _make(root, name, body)
            found, findings = read_journal(root)
            told = [findings_text(findings, root)]
            for each in found.folders if found is not None else ():
                run_there, more = read_experiment(each, found) if found is not None else (None, ())
                told += [findings_text(more, root), repr(run_there and run_there.photo_files)]
            return told
        finally:
            shutil.rmtree(root)

    return run


def _make(root: Path, name: bytes, body: bytes) -> None:
    """A file, or with a slash behind it a folder, of a name that a system takes; never outside."""
    parts = [part for part in name.split(b"/") if part not in (b"", b".", b"..")]
    if not parts or b"\0" in name:
        return
    place = os.path.join(os.fsencode(root), *parts)  # noqa: PTH118 - names are bytes
    try:
        os.makedirs(place if name.endswith(b"/") else os.path.dirname(place), exist_ok=True)  # noqa: PTH103, PTH120
        if not name.endswith(b"/"):
            with open(place, "xb") as file:  # noqa: PTH123
                file.write(body if b"." in name else b"")
    except OSError:
        return


def _named() -> Iterator[bytes]:
    run = RUN.encode()
    yield b"\n".join(
        (
            run + b"/photos/day-3-leaf.jpg",
            run + b"/recap.md",
            b"gear.yml",
            b"Journal.yaml",
            b"about.md",
            b"look/assets/look.css",
        )
    )
    yield b"\n".join(
        (
            run + b"/photos/2025-10-19.HEIC",
            run + b"/Photos/IMG_20251019_143000.jpeg",
            run + b"/foto/x.png",
            run + b"/log.csv",
        )
    )
    yield b"\n".join(
        (
            b"seasons/2025 autumn/run/experiment.yaml",
            b"seasons/x/experiment.yaml",
            b"season/x/y/experiment.yml",
            b"experiments/",
        )
    )
    yield b"\n".join(
        (
            b"look/notes/script.md",
            b"look/words/de.po",
            b"look/templates/run.html",
            b"look/tempates/",
            b"themes/x/theme.yaml",
        )
    )
    yield b"\n".join(
        (
            b".DS_Store",
            b"Thumbs.db",
            b"~$x.xlsx",
            b".git/",
            b"output/index.html",
            b"_draft/",
            b"caf\xe9.jpg",
            b"e\xcc\x81.md",
            b"\xff/",
        )
    )
    yield b"\n".join(
        (
            run + b"/photos/\xff.jpg",
            run + b"/photos/day-99999.jpg",
            run + b"/photos/" + b"a" * 255,
            b"a" * 255 + b"/",
            b"-rf",
            b" .md",
        )
    )


_PARTS = (RUN.encode(), b"/photos/", b"seasons/", b".jpg", b".HEIC", b".md", b".yaml", b".yml", b"experiment", b"journal", b"look/", b"output/", b"recap", b".csv", b"day-")  # fmt: skip

TARGETS = (
    Target("experiment", _read, lambda: texts("/experiment.yaml"), ("ingest/setup", "ingest/log", "ingest/values", "ingest/yaml", "judge"),
           "sitegen.ingest.log.entries:_read_entry", tokens=(*KEYS, *WORDS), longest=6500),
    Target("figures", _measured, lambda: texts("/experiment.yaml"), ("measure", "core/values", "core/language"),
           "sitegen.measure.facts:harvest_of", tokens=(*KEYS, *WORDS), longest=6500),
    Target("file-names", _names, _named, ("ingest/unread_files.py", "ingest/listing.py", "ingest/photos.py", "ingest/journal.py"),
           "sitegen.ingest.journal:_experiment", tokens=_PARTS, longest=1000),
)  # fmt: skip
