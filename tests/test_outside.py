"""A journal is a boundary: links in it are followed to places in it, and nothing is read through any other.

In: the sound journal with everything that a journal can hold, each file and folder in turn a link. Out: pages, findings,
and the files that were opened.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
import sysconfig
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.cache_folder import cache_folder
from sitegen.core.findings.finding import Finding
from sitegen.pipeline import validate

TODAY = date(2026, 11, 28)
PROJECT = Path(__file__).parent.parent
SOUND = PROJECT / "tests" / "journals" / "sound"
RUN = "seasons/spring/sorrel-pairs"
CANARY = "hush-a-canary-in-a-cage"

# Everything that a journal can hold beside its journal.yaml, and the files of one run.
FILES = (
    "gear.yaml",
    "crops.yaml",
    "about.md",
    "inbox.txt",
    "look/assets/look.css",
    "look/assets/more/extra.css",
    "look/templates/missing.html",
    "look/words/en.po",
    "look/notes/script.md",
    "seasons/spring/season.yaml",
    f"{RUN}/experiment.yaml",
    f"{RUN}/recap.md",
    f"{RUN}/leaves.csv",
    f"{RUN}/book.xlsx",
    f"{RUN}/photos/day-15-tray.png",
)
FOLDERS = (
    "look",
    "look/assets",
    "look/assets/more",
    "look/templates",
    "look/words",
    "look/notes",
    "seasons",
    "seasons/spring",
    RUN,
    f"{RUN}/photos",
)


def whole(root: Path) -> Path:
    """The sound journal with a text, a photo, a workbook, and a look of its own."""
    from openpyxl import Workbook

    shutil.copytree(SOUND, root)
    run = root / RUN
    texts = {
        "about.md": f"# About\n\n{CANARY}\n",
        "inbox.txt": "",
        "look/assets/look.css": f"/* {CANARY} */\n",
        "look/assets/more/extra.css": f"/* {CANARY} */\n",
        "look/templates/missing.html": f"<!DOCTYPE html><html lang=en><title>{CANARY}</title></html>\n",
        "look/words/en.po": f'msgid "Methods"\nmsgstr "{CANARY}"\n',
        "look/notes/script.md": f"# {CANARY}\n",
        f"{RUN}/recap.md": f"The leaves were {CANARY}.\n",
    }
    for place, text in texts.items():
        (root / place).parent.mkdir(parents=True, exist_ok=True)
        (root / place).write_text(text, "utf-8")
    (run / "photos").mkdir()
    Image.new("RGB", (99, 99), "green").save(run / "photos" / "day-15-tray.png")
    book = Workbook()
    book.active.append(["date", "two"])  # type: ignore[union-attr] # a new workbook has a sheet
    book.active.append(["2025-03-28", 4])  # type: ignore[union-attr] # as above
    book.save(run / "book.xlsx")
    sheet = "  - {file: book.xlsx, reading: leaves, columns: {two: P2}}\n"
    text = (run / "experiment.yaml").read_text("utf-8")
    (run / "experiment.yaml").write_text(text.replace("readings:\n", f"readings:\n{sheet}"), "utf-8")
    return root


def linked(root: Path, place: str, home: Path) -> Path:
    """Move a file or folder of a journal to another place, and leave a link; the new place."""
    target = home / place
    target.parent.mkdir(parents=True, exist_ok=True)
    (root / place).rename(target)
    (root / place).symlink_to(target, target_is_directory=target.is_dir())
    return target


def told(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    """The code and the file of each finding."""
    return [(finding.code, finding.source.file) for finding in findings]


# opened files: an audit hook cannot be taken off, so there is one for all tests

_OPENED: list[list[str]] = []


def _hook(event: str, given: tuple[Any, ...]) -> None:
    if _OPENED and event in ("open", "os.listdir", "os.scandir") and isinstance(given[0], (str, bytes, Path)):
        _OPENED[-1].append(os.path.realpath(os.fsdecode(given[0])))


@contextmanager
def opened() -> Iterator[list[str]]:
    """The real paths of all files and folders that this process opens in the block."""
    if not hasattr(sys, "_sitegen_hook"):
        sys._sitegen_hook = True  # type: ignore[attr-defined] # once a process, whoever imports this
        sys.addaudithook(_hook)
    _OPENED.append([])
    try:
        yield _OPENED[-1]
    finally:
        _OPENED.pop()


def strangers(paths: list[str], *own: Path) -> list[str]:
    """The paths that belong neither to `own`, nor to the program, Python, or the system."""
    pythons = {*sysconfig.get_paths().values(), sys.prefix, sys.base_prefix, sys.exec_prefix, *sys.path}
    homes = [os.path.realpath(each) for each in (PROJECT, cache_folder(), *own, *pythons) if each]
    homes += ["/dev", "/etc", "/lib", "/proc", "/sys", "/usr", "/opt", "/var/cache/fontconfig"]
    return sorted({path for path in paths if not any(f"{path}/".startswith(f"{home}/") for home in homes)})


# outside


# Each alone, and as many together as can be: a link hides what lies below it.
TOGETHER = (
    FILES,
    ("look/assets/more", "look/templates", "look/words", "look/notes", f"{RUN}/photos"),
    ("look/assets", RUN),
    ("look", "seasons/spring"),
    ("seasons",),
)
ALONE = [pytest.param((place,), marks=pytest.mark.full) for place in (*FILES, *FOLDERS)]


@pytest.mark.parametrize("places", [*TOGETHER, *ALONE], ids=lambda places: f"{places[0]}-{len(places)}")
def test_nothing_is_read_through_a_link_that_leads_out(places: tuple[str, ...], tmp_path: Path) -> None:
    """Each file and folder of a journal, as a link that leads out, is one error that names it, and is never opened."""
    root, away = whole(tmp_path / "journal"), tmp_path / "away"
    targets = {place: linked(root, place, away) for place in places}

    with opened() as paths:
        findings = validate(root, TODAY).findings

    found = [finding for finding in findings if finding.code == "link-outside"]
    assert sorted((each.source.file, each.message, each.mend, each.severity) for each in found) == sorted(
        (
            place,
            f"`{place}` is a link that leads out of the journal, to `{target}`, so nothing is read through it",
            f"copy the {'folder' if place in FOLDERS else 'file'} into the journal, in place of the link",
            "error",
        )
        for place, target in targets.items()
    )
    assert [path for path in paths if path.startswith(str(away))] == []


def test_a_journal_of_links_that_lead_out_is_written_without_what_they_lead_to(tmp_path: Path) -> None:
    """Even where a site is written in spite of errors, nothing of what lies outside is opened or published."""
    root, away, out = whole(tmp_path / "journal"), tmp_path / "away", tmp_path / "site" / "out"
    for place in ("about.md", "look", f"{RUN}/recap.md", f"{RUN}/book.xlsx", f"{RUN}/photos", "inbox.txt"):
        linked(root, place, away)
    (root / "bench.md").symlink_to("/etc/passwd")
    (root / "seasons/spring/sorrel-beside/recap.md").symlink_to("/proc/self/environ")

    with opened() as paths:
        status = status_of(["write", str(root), "-o", str(out), "--keep-going", "--today", str(TODAY)])

    assert status == Status.PARTLY
    assert strangers(paths, root, out.parent) == []
    written = [path for path in out.rglob("*") if path.is_file()]
    assert [path.name for path in written if CANARY.encode() in path.read_bytes()] == []
    assert {"/etc/passwd", "/proc/self/environ"} & set(paths) == set()


OPENERS = re.compile(
    r"\.(read_bytes|read_text|iterdir|glob|rglob)\(|\bos\.(scandir|walk|listdir)\(|(?<!dumper)(?<!browser)(\.|\b)open\("
)
# Modules that list folders or open files by themselves, and why each may: all others ask `core/files/inside.py`.
OPENING = {
    "core/files/inside.py": "the boundary itself",
    "core/site/page.py": "files of the store",
    "core/files/photo_formats.py": "an open file",
    "core/files/workbooks.py": "a part of an archive that is open",
    "core/site/typesetting.py": "files of the program",
    "filing/entries/undo.py": "what is ours",
    "filing/inbox/transaction.py": "an inbox and logs that were asked about before",
    "filing/new_file.py": "a folder of photos that was asked about before",
    "filing/safe_file.py": "a file that was asked about before",
    "ingest/catalogues.py": "files of the program",
    "ingest/journal.py": "the names in the journal's own folder",
    "ingest/listing.py": "asks before it lists",
    "ingest/photos.py": "names that were listed inside",
    "ingest/sheets/cells.py": "a file that was asked about before",
    "ingest/text_files.py": "asks before it opens",
    "ingest/unread_files.py": "names that were listed inside",
    "notes/cards/kinds.py": "bytes",
    "notes/check/sentences/transcript.py": "a file of the command line",
    "notes/templates.py": "asks before it opens",
    "photos/photo.py": "names that were listed inside",
    "pipeline/engine/files.py": "asks before it lists",
    "pipeline/filing/entries.py": "a log that was asked about before",
    "pipeline/filing/experiments.py": "asks before it lists",
    "pipeline/filing/inbox.py": "a file of the command line",
    "pipeline/filing/mending.py": "a copy without links that lead out",
    "pipeline/filing/pictures.py": "a folder of the command line; asks before it lists another",
    "pipeline/filing/planning.py": "asks before it opens",
    "pipeline/filing/upgrading.py": "asks before it opens",
    "pipeline/notes/kept_file.py": "a file of the command line",
    "plot/definitions/__main__.py": "files of the program",
    "plot/drawing/draw.py": "files of the program",
    "render/metadata/preview_image.py": "bytes",
    "render/metadata/previews.py": "files of the store",
    "render/templates/themes.py": "files of the program; asks before it opens others",
}


def test_only_these_modules_open_files() -> None:
    """A module that begins to list folders or to open files is to ask first whether a link leads out."""
    home = PROJECT / "sitegen"
    stages = ("core", "filing", "ingest", "judge", "measure", "notes", "photos", "pipeline", "plot", "render")
    paths = [path for stage in stages for path in (home / stage).rglob("*.py")]
    found = {path.relative_to(home).as_posix() for path in paths if OPENERS.search(path.read_text("utf-8"))}

    assert found == set(OPENING)


# commands that write

LOG = f"{RUN}/experiment.yaml"
ID = RUN.rpartition("/")[2]
WRITING = {
    "log": (LOG, ["log", ID, "--journal", "{root}", "--date", "2025-05-04", "smells of lemon"]),
    "log in a season": (
        "seasons/spring",
        ["log", ID, "--journal", "{root}", "--date", "2025-05-04", "smells of lemon"],
    ),
    "undo": (LOG, ["log", ID, "--journal", "{root}", "--undo"]),
    "a log in an inbox": ("inbox.txt", ["log", "--from", "{root}/inbox.txt", "--journal", "{root}"]),
    "a season": ("seasons", ["begin", "season", "later", "{root}"]),
}


@pytest.mark.parametrize("what", WRITING)
def test_nothing_is_written_through_a_link_that_leads_out(
    what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A command that would write there says where the link leads, and leaves what it leads to as it is."""
    root, away = whole(tmp_path / "journal"), tmp_path / "away"
    (root / "inbox.txt").write_text(f"2025-05-04 {ID}: smells of lemon\n", "utf-8")
    place, arguments = WRITING[what]
    target = linked(root, place, away)
    before = contents(away)

    status = status_of([each.format(root=root) for each in arguments])

    told = capsys.readouterr().err
    assert (status, contents(away)) == (Status.USAGE, before)
    assert f"`{place}` is a link that leads out of the journal, to `{target}`" in told


def test_an_inbox_is_not_filed_into_a_log_behind_a_link_that_leads_out(tmp_path: Path) -> None:
    """Its line stays, and the file that the link leads to is neither read nor written."""
    root, away = whole(tmp_path / "journal"), tmp_path / "away"
    (root / "inbox.txt").write_text(f"2025-05-04 {ID}: smells of lemon\n", "utf-8")
    linked(root, LOG, away)
    before = contents(away)

    with opened() as paths:
        assert status_of(["log", "--from", str(root / "inbox.txt"), "--journal", str(root)]) == Status.ERRORS

    assert contents(away) == before
    assert (root / "inbox.txt").read_text("utf-8") == f"2025-05-04 {ID}: smells of lemon\n"
    assert [path for path in paths if path.startswith(str(away))] == []


def test_a_picture_is_not_filed_behind_a_link_that_leads_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Photos of a run that are a link out of the journal: the picture is left, with the reason."""
    root, away, camera = whole(tmp_path / "journal"), tmp_path / "away", tmp_path / "camera"
    camera.mkdir()
    Image.new("RGB", (99, 99), "red").save(camera / "2025-03-20.png")
    linked(root, f"{RUN}/photos", away)
    before = contents(away)

    status = status_of(["log", "--photos", str(camera), "--to", ID, "--journal", str(root)])

    assert (status, contents(away)) == (Status.ERRORS, before)
    assert capsys.readouterr().out == (
        f"2025-03-20.png: left; `{RUN}/photos` is a link that leads out of the journal: copy the folder into the "
        "journal, in place of the link\n"
    )


@pytest.mark.full
def test_mends_are_tried_on_a_copy_with_the_same_links(tmp_path: Path) -> None:
    """`--fix` mends files of the journal, those behind links in it too, and nothing behind one that leads out."""
    root, away = whole(tmp_path / "journal"), tmp_path / "away"
    slip = "log:\n  - {date: 2025-03-01, note: roots white, tips brown}\n"
    for run in (RUN, "seasons/spring/sorrel-beside"):
        log = root / run / "experiment.yaml"
        log.write_text(log.read_text("utf-8").replace("log:\n", slip, 1), "utf-8")
    linked(root, f"{RUN}/photos", root / ".kept")
    inside, outside = linked(root, LOG, root / ".kept"), linked(root, "seasons/spring/sorrel-beside", away)
    (root / "look" / "round").symlink_to("round")
    before = contents(away)

    status_of(["validate", str(root), "--fix", "--today", str(TODAY)])

    assert "note: 'roots white, tips brown'" in inside.read_text("utf-8")
    assert (contents(away), outside.is_dir()) == (before, True)
    codes = [code for code, _ in told(validate(root, TODAY).findings)]
    assert sorted(codes) == ["link-outside", "unreadable-file"]


def contents(folder: Path) -> dict[str, bytes]:
    """All files below a folder."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


# other things that are no files


def test_a_pipe_in_a_journal_is_not_waited_for(tmp_path: Path) -> None:
    """A pipe in place of a file of the journal is an error, and one that nothing reads a warning; none is opened."""
    root = whole(tmp_path / "journal")
    (root / "gear.yaml").unlink()
    for place in ("gear.yaml", f"{RUN}/photos/day-16-tap.png", "look/assets/pipe.css"):
        os.mkfifo(root / place)

    findings = validate(root, TODAY).findings

    assert [each.message for each in findings if each.source.file == "gear.yaml"] == [
        "`gear.yaml` cannot be opened: it is no file"
    ]


# paths in texts and fields

PATHS = (
    "../../../gear.yaml",
    "/etc/passwd",
    "%2e%2e/%2e%2e/gear.yaml",
    "..%2fgear.yaml",
    r"..\..\gear.yaml",
    r"\\server\share\x.csv",
    "//server/share/x.csv",
    "file:///etc/passwd",
    r"C:\secret.csv",
    "photos/../../../../gear.yaml",
)
FIELDS = {
    "photo": ("missing-photo", "log:\n", "log:\n  - {{date: 2025-03-01, photo: '{path}'}}\n"),
    "sheet": ("missing-export", "readings:\n", "readings:\n  - {{file: '{path}', reading: leaves}}\n"),
}


@pytest.mark.parametrize("field", FIELDS)
def test_a_path_in_a_field_leads_nowhere_else(field: str, tmp_path: Path) -> None:
    """A photo or a sheet is named by its place below its folder; any other path is an error, and is not opened."""
    root = whole(tmp_path / "journal")
    code, before, after = FIELDS[field]
    log = root / RUN / "experiment.yaml"
    text = log.read_text("utf-8")
    for path in PATHS:
        text = text.replace(before, after.format(path=path), 1)
    log.write_text(text, "utf-8")

    with opened() as paths:
        findings = validate(root, TODAY).findings

    assert sorted(each.found for each in findings if each.code == code) == sorted(PATHS)
    assert strangers(paths, root) == []
    assert "/etc/passwd" not in paths


def test_a_path_in_a_text_leads_nowhere_else(tmp_path: Path) -> None:
    """A link of a text to a place on the author's disk is an error, and a picture of that place is left out."""
    root = whole(tmp_path / "journal")
    links = "".join(f"[way]({path})\n\n" for path in PATHS)
    pictures = "".join(f"![way]({path})\n\n" for path in PATHS)
    (root / "about.md").write_text(f"# About\n\n{links}", "utf-8")
    (root / RUN / "recap.md").write_text(pictures, "utf-8")

    with opened() as paths:
        findings = validate(root, TODAY).findings

    codes = [code for code, _ in told(findings)]
    assert codes == ["unknown-experiment"] * len(PATHS) + ["picture-left-out"] * len(PATHS)
    assert strangers(paths, root) == []
    assert "/etc/passwd" not in paths


# inside


@pytest.mark.full
def test_links_that_stay_in_the_journal_are_followed(tmp_path: Path) -> None:
    """A journal whose files and folders are links to other places in it is written as if they lay there themselves."""
    plain, root = whole(tmp_path / "plain" / "bench"), whole(tmp_path / "links" / "bench")
    assert told(validate(plain, TODAY).findings) == []
    for place in FILES:
        linked(root, place, root / ".kept")
    for place in ("look/assets/more", f"{RUN}/photos", RUN, "seasons/spring", "seasons", "look"):
        linked(root, place, root / ".folders" / place.replace("/", "-"))
    home = tmp_path / "by-a-link"
    home.symlink_to(root, target_is_directory=True)

    for journal, out in ((plain, "a"), (home, "b")):
        arguments = ["write", str(journal), "-o", str(tmp_path / out), "--today", str(TODAY)]
        assert status_of(arguments) == 0

    sites = [
        {p.relative_to(s): p.read_bytes() for p in s.rglob("*") if p.is_file()} for s in _sites(tmp_path)
    ]
    assert sites[0].keys() == sites[1].keys()
    assert [str(name) for name in sites[0] if sites[0][name] != sites[1][name]] == []
    assert sum(CANARY.encode() in body for body in sites[1].values()) > len(FILES)


def _sites(home: Path) -> tuple[Path, Path]:
    return home / "a", home / "b"
