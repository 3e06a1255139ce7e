"""Files and folders of a journal that nothing reads: each is a finding with its mend, but for litter and what is ours."""

from __future__ import annotations

import datetime as dt
import os
import shutil
from pathlib import Path
from typing import NoReturn

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.findings.told import told
from sitegen.ingest import read_journal
from sitegen.ingest.listing import is_ignored, is_litter, listed
from sitegen.ingest.unread_files import meant_name
from sitegen.memo import Memo
from sitegen.pipeline import publish, validate
from sitegen.pipeline.preview import Previewer

SOUND = Path(__file__).parents[1] / "journals" / "sound"
TODAY = dt.date(2025, 8, 1)
RUN = "seasons/spring/sorrel-pairs"
OR = ", or name it under `ignore` in journal.yaml"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A sound journal."""
    shutil.copytree(SOUND, tmp_path / "journal")
    return tmp_path / "journal"


def put(root: Path, *names: str, text: str = "x\n") -> None:
    """Files in a journal; a name that ends with a slash is a folder."""
    for name in names:
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if name.endswith("/"):
            path.mkdir(parents=True, exist_ok=True)
        else:
            path.write_text(text, "utf-8")


def said(root: Path) -> dict[str, str]:
    """The findings of a journal: by place, code and mend."""
    return {each.source.file: f"{each.code}: {each.mend}" for each in validate(root, TODAY).findings}


@pytest.mark.parametrize(
    ("name", "finding"),
    [
        ("plan.ods", f"stray-file: move it elsewhere{OR}"),
        ("About.markdown", f"stray-file: rename it to `about.md` for a page of its own{OR}"),
        ("Gear.yaml", f"stray-file: move what it holds to `gear.yaml`{OR}"),
        ("seasons/plan.txt", f"stray-file: move it into the folder of a season{OR}"),
        ("seasons/experiment.yaml", "stray-file: move it to `seasons/SEASON/RUN/experiment.yaml`"),
        ("seasons/spring/experiment.yml", "stray-file: move it to `seasons/spring/RUN/experiment.yaml`"),
        ("seasons/spring/soil.pdf", f"stray-file: move it into the folder of a run{OR}"),
        (f"{RUN}/air.csv", f"stray-file: write `readings: [{{file: air.csv, …}}]`{OR}"),
        (f"{RUN}/air.ods", f"stray-file: save it as .xlsx or .csv{OR}"),
        (f"{RUN}/air.xls", f"stray-file: save it as .xlsx or .csv{OR}"),
        (f"{RUN}/first.JPG", f"stray-file: move it to `photos/`{OR}"),
        (f"{RUN}/film.mov", f"stray-file: move it elsewhere{OR}"),
        (f"{RUN}/experiment.yaml.txt", f"stray-file: move what it holds to `experiment.yaml`{OR}"),
        (f"{RUN}/Recap.md", "misnamed-file: rename it to `recap.md`"),
        (f"{RUN}/recap.markdown", "misnamed-file: rename it to `recap.md`"),
        (f"{RUN}/recaps.md", "misnamed-file: rename it to `recap.md`"),
        (
            f"{RUN}/photos/first.tiff",
            f"stray-file: save a photo as JPEG, PNG, WebP or HEIC; move it elsewhere{OR}",
        ),
        ("look/style.css", f"stray-file: move it to `look/assets/style.css`{OR}"),
        ("look/home.html", f"stray-file: move it to `look/templates/home.html`{OR}"),
        ("look/words/notes.txt", f"stray-file: move it elsewhere{OR}"),
    ],
)
def test_a_file_that_nothing_reads(root: Path, name: str, finding: str) -> None:
    """A file that is no part of the journal is said with what to do about it."""
    put(root, name)

    assert said(root) == {name: finding}


@pytest.mark.parametrize(
    ("folder", "inside", "finding"),
    [
        ("Scans", "one.txt", f"stray-file: move it elsewhere{OR}"),
        ("crate", "experiment.yaml", "stray-file: move it to `seasons/spring/crate`"),
        ("crate", "notes.yaml", "stray-file: move it to `seasons/spring/crate`"),
        (f"{RUN}/Photos", "one.txt", "misnamed-file: rename it to `photos`"),
        (f"{RUN}/photo", "one.txt", "misnamed-file: rename it to `photos`"),
        (f"{RUN}/photos/raw", "one.txt", f"stray-file: move the photos in it up into `photos/`{OR}"),
        (f"{RUN}/scans", "one.txt", f"stray-file: move it elsewhere{OR}"),
        ("look/template", "home.html", "misnamed-file: rename it to `templates`"),
    ],
)
def test_a_folder_that_nothing_reads(root: Path, folder: str, inside: str, finding: str) -> None:
    """A folder is said once, whatever it holds; one with a log in it looks like a run."""
    put(root, f"{folder}/{inside}", text="log:\n  - {day: 0}\n" if inside.endswith(".yaml") else "x\n")

    assert said(root) == {folder: finding}


@pytest.mark.parametrize("name", ["Seasons", "season", "seasns", "SEASONS"])
def test_the_folder_of_seasons_misnamed(root: Path, name: str) -> None:
    """Where no run is read, a folder that is nearly `seasons` is an error: the site would be empty."""
    (root / "seasons").rename(root / name)

    assert said(root) == {name: "misnamed-file: rename it to `seasons`"}


@pytest.mark.parametrize(
    ("old", "new", "meant"),
    [
        ("gear.yaml", "gear.yml", "gear.yaml"),
        ("gear.yaml", "Gear.yaml", "gear.yaml"),
        ("crops.yaml", "crops.yml", "crops.yaml"),
        ("crops.yaml", "crop.yaml", "crops.yaml"),
        ("seasons/spring/season.yaml", "seasons/spring/Season.yaml", "season.yaml"),
        (f"{RUN}/experiment.yaml", f"{RUN}/experiment.yml", "experiment.yaml"),
        (f"{RUN}/experiment.yaml", f"{RUN}/Experiment.yaml", "experiment.yaml"),
        (f"{RUN}/experiment.yaml", f"{RUN}/experiment.yaml.txt", "experiment.yaml"),
        (f"{RUN}/experiment.yaml", f"{RUN}/experiments.yaml", "experiment.yaml"),
    ],
)
def test_a_file_of_the_journal_misnamed(root: Path, old: str, new: str, meant: str) -> None:
    """A name that is nearly the one that is missing is told first, and what is unknown without it is held back."""
    (root / old).rename(root / new)
    shown = told(validate(root, TODAY).findings)

    assert [(each.first.code, each.first.source.file, each.first.mend) for each in shown] == [
        ("misnamed-file", new, f"rename it to `{meant}`")
    ]
    assert shown[0].held


def test_runs_in_the_folder_of_the_journal(root: Path) -> None:
    """Where folders look like runs and none was read, each is an error."""
    (root / RUN).rename(root / "sorrel-pairs")
    shutil.rmtree(root / "seasons")

    assert said(root) == {"sorrel-pairs": "unread-runs: move it to `seasons/SEASON/sorrel-pairs`"}


def test_what_others_leave_behind_is_silent(root: Path) -> None:
    """Litter of systems, editors and office programs is no finding, at any place."""
    for folder in (".", "seasons", "seasons/spring", RUN, f"{RUN}/photos", "look"):
        names = (
            ".DS_Store",
            "Thumbs.db",
            "desktop.ini",
            "~$air.xlsx",
            "experiment.yaml.swp",
            "recap.md~",
            ".git/x",
        )
        put(
            root,
            *(f"{folder}/{name}" for name in (*names, ".~lock.air.ods#", "air.lock", "__pycache__/x.pyc")),
        )

    assert said(root) == {}


def test_what_is_ours_is_silent(root: Path) -> None:
    """The inbox, drafts of notes, captions, and the output of builds are no findings."""
    put(root, "inbox.txt", ".inbox.intent")
    put(root, f"{RUN}/script.md", text="Sown. <!-- experiment.yaml:15 -->\n")
    put(root, f"{RUN}/script.json", text='{"experiment": "sorrel-pairs", "sections": []}\n')
    put(root, f"{RUN}/spoken.vtt", text="WEBVTT\n")
    publish(root, TODAY, output=root / "public")
    publish(root, TODAY)

    assert said(root) == {}
    assert {"public", "output"} <= {path.name for path in root.iterdir()}


def test_files_that_a_log_names_are_read(root: Path) -> None:
    """Footage beside a run is part of it where a clip names it; a spreadsheet may lie in a folder."""
    path = root / RUN / "experiment.yaml"
    text = path.read_text("utf-8").replace("leaves.csv", "data/leaves.csv")
    path.write_text(
        text.replace("    water: filled\n", "    water: filled\n    clip: {what: sown, file: a1.mp4}\n"),
        "utf-8",
    )
    put(root, f"{RUN}/a1.mp4")
    (root / RUN / "data").mkdir()
    (root / RUN / "leaves.csv").rename(root / RUN / "data" / "leaves.csv")

    assert said(root) == {}


def test_sheets_of_a_run_that_cannot_be_read_wait(root: Path) -> None:
    """While experiment.yaml is broken nobody knows which spreadsheets it names."""
    path = root / RUN / "experiment.yaml"
    path.write_text(f"{path.read_text('utf-8')}\n  - [\n", "utf-8")
    put(root, f"{RUN}/film.mov")

    assert {each.code for each in validate(root, TODAY).findings} == {"yaml-syntax", "stray-file"}
    assert f"{RUN}/leaves.csv" not in said(root)


def test_ignore(root: Path) -> None:
    """What `ignore:` names is no part of the journal: no finding, no page, no run."""
    put(root, "drawing/one.py", "plan.ods", "README.md", f"{RUN}/film.mov", f"{RUN}/photos/raw/one.txt")
    path = root / "journal.yaml"
    path.write_text(
        f"{path.read_text('utf-8')}ignore: [drawing/**, '*.ods', README.md, {RUN}/*.mov, raw]\n", "utf-8"
    )
    journal, findings = read_journal(root)

    assert journal is not None
    assert (findings, journal.pages, said(root)) == ((), (), {})
    path.write_text(path.read_text("utf-8").replace("raw]", "raw, seasons/spring/physalis-late]"), "utf-8")
    journal, _ = read_journal(root)
    assert journal is not None
    assert [folder.id for folder in journal.folders] == ["sorrel-beside", "sorrel-pairs"]


@pytest.mark.parametrize(
    ("place", "pattern", "matches"),
    [
        ("a.py", "*.py", True),
        ("x/y/a.py", "*.py", True),
        ("x/a.pyc", "*.py", False),
        ("drawing", "drawing/**", True),
        ("drawing/a/b", "drawing/**", True),
        ("drawing/a/b", "drawing/", True),
        ("old/drawing", "drawing", True),
        ("x/a.py", "x/*.py", True),
        ("x/y/a.py", "x/*.py", False),
        ("x/y/a.py", "x/**/*.py", True),
        ("x/a.py", "x/**/*.py", True),
        ("xy/a.py", "x/*.py", False),
        ("a.b", "./a?b", True),
        ("a", "", False),
    ],
)
def test_patterns(place: str, pattern: str, matches: bool) -> None:
    """A name at any depth, or a path in which a star stays within a name and two go through folders."""
    assert is_ignored(place, [pattern]) is matches


@pytest.mark.parametrize(
    "name", ["gear", "seedlings.yaml", "experiment-2.yaml", "recap-draft.md", "photos.zip"]
)
def test_other_names_are_not_meant(name: str) -> None:
    """A name that says more, or has another ending, is a name of its own."""
    assert meant_name(name, ("gear.yaml", "experiment.yaml", "recap.md", "photos", "seasons")) == ""


def test_names_of_an_author_are_no_litter() -> None:
    """Common names are not taken for litter."""
    assert [name for name in ("air.csv", "tmp", "lock.md", "photos", "icon.svg") if is_litter(name)] == []


def test_links_and_names_that_cannot_be_read(root: Path) -> None:
    """A link that leads nowhere or to itself and a name that is not UTF-8 are findings, each where it lies."""
    (root / "lost.md").symlink_to("nowhere")
    (root / "round").symlink_to("round")
    (root / RUN / "recap.md").symlink_to("nowhere")
    (root / RUN / "photos").mkdir()
    (root / RUN / "photos" / "one.jpg").symlink_to("nowhere")
    (root / RUN / os.fsdecode(b"n\xff.txt")).write_bytes(b"x")

    link, name = "unreadable-file: mend the link, or remove it", f"not-utf8: rename it{OR}"
    expected = dict.fromkeys(["lost.md", "round", f"{RUN}/recap.md", f"{RUN}/photos/one.jpg"], link)
    assert said(root) == {**expected, f"{RUN}/n\ufffd.txt": name}
    (root / "round").unlink()
    assert "round" not in said(root)


def test_a_folder_without_permission(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that cannot be opened is a finding."""

    def refuse(_folder: Path) -> NoReturn:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "scandir", refuse)
    findings = Findings()

    assert listed(root / "seasons", root, findings) == ()
    assert [(each.code, each.message, each.source.file) for each in findings] == [
        ("unreadable-file", "`seasons` cannot be opened: Permission denied", "seasons")
    ]


def test_write_and_live_say_it_too(root: Path, tmp_path: Path) -> None:
    """The site is not written while something is misnamed, and a preview says so after the rename of a moment ago."""
    with Memo() as memo:
        previewer = Previewer(root, TODAY, memo)
        assert previewer.refresh().errors() == ()
        put(root, f"{RUN}/Recap.md")
        (found,) = previewer.refresh([f"{RUN}/Recap.md"]).errors()

    assert (found.code, found.source.file) == ("misnamed-file", f"{RUN}/Recap.md")
    published = publish(root, TODAY, output=tmp_path / "site")
    assert (published.outcome, published.findings) == (None, (found,))
