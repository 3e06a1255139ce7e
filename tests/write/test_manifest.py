"""The manifest of an output folder: read with suspicion, written whole."""

from __future__ import annotations

import json
import os
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.write.manifest import (
    MANIFEST,
    STAGING,
    UNKNOWN_CONTENT,
    Manifest,
    is_foreign,
    read_manifest,
    write_manifest,
)
from tests.write.sites import everything


def read(folder: Path, files: object) -> object:
    """The files that a manifest with this list or table is believed to name; None where it makes a folder foreign."""
    (folder / MANIFEST).write_text(json.dumps({"files": files, "format": 2}), "utf-8")
    manifest = read_manifest(folder)
    return None if manifest is None else dict(manifest.files)


def test_a_manifest_is_read_as_it_was_written(tmp_path: Path) -> None:
    """Addresses and fingerprints come back; the text is sorted, and ends with a line break."""
    files = {"b.html": ("bb", 2), "a/c.html": ("aa", 1)}
    write_manifest(tmp_path, tmp_path, files)
    manifest = read_manifest(tmp_path)

    assert manifest is not None
    assert manifest.files == files
    assert (tmp_path / MANIFEST).read_text("utf-8") == (
        '{"files": {"a/c.html": ["aa", 1], "b.html": ["bb", 2]}, "format": 2}\n'
    )
    assert everything(tmp_path) == [MANIFEST]


def test_a_manifest_is_never_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where writing it fails, the old one is there."""
    write_manifest(tmp_path, tmp_path, {"a.html": ("aa", 1)})
    old = (tmp_path / MANIFEST).read_bytes()

    def failing(path: Path, text: str, encoding: str) -> int:
        path.write_bytes(text[:10].encode(encoding))
        raise OSError("disk full")

    monkeypatch.setattr(Path, "write_text", failing)
    with pytest.raises(OSError, match="disk full"):
        write_manifest(tmp_path, tmp_path, {"b.html": ("bb", 2)})

    assert (tmp_path / MANIFEST).read_bytes() == old


@pytest.mark.parametrize("when", [5, 2 * 10**18])
def test_the_time_of_a_manifest(tmp_path: Path, when: int) -> None:
    """It is the file's modification time: the change time is renewed where a folder is copied."""
    write_manifest(tmp_path, tmp_path, {})
    os.utime(tmp_path / MANIFEST, ns=(1, when))

    assert read_manifest(tmp_path) == Manifest({}, when)


def test_no_manifest(tmp_path: Path) -> None:
    """An empty folder and a missing one have an empty manifest that was never written."""
    assert read_manifest(tmp_path) == read_manifest(tmp_path / "missing") == Manifest({}, 0)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        '{"files": 3}',
        '{"files": "ab"}',
        '{"files": null}',
        '{"files": [["a"]]}',
        '{"format": 1}',
        "\xff",
        "[" * 100_000,
    ],
    ids=lambda text: text[:20],
)
def test_a_manifest_that_says_nothing_makes_a_folder_foreign(tmp_path: Path, text: str) -> None:
    """What may not be ours is not removed."""
    (tmp_path / MANIFEST).write_bytes(text.encode("latin-1"))

    assert read_manifest(tmp_path) is None


def test_a_manifest_that_cannot_be_read_makes_a_folder_foreign(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An error of the disk is no permission to remove files."""
    write_manifest(tmp_path, tmp_path, {})
    monkeypatch.setattr(Path, "read_text", lambda *_: (_ for _ in ()).throw(OSError("input/output error")))

    assert read_manifest(tmp_path) is None


# foreign folders


def test_folders_that_are_not_foreign(tmp_path: Path) -> None:
    """A missing folder, an empty one, one with a manifest beside other files, one that a killed process left."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "ours").mkdir()
    (tmp_path / "ours" / "a.html").touch()
    write_manifest(tmp_path / "ours", tmp_path, {})
    (tmp_path / "killed").mkdir()
    (tmp_path / "killed" / STAGING).mkdir()
    (tmp_path / "killed" / f"{MANIFEST}.new").touch()

    assert [is_foreign(tmp_path / name) for name in ("missing", "empty", "ours", "killed")] == [False] * 4


def test_folders_that_are_foreign(tmp_path: Path) -> None:
    """A file in place of a folder, files without a manifest, if some wait too, a folder as manifest."""
    (tmp_path / "file").touch()
    for name, content in (("files", "a.html"), ("both", "a.html"), ("folder", f"{MANIFEST}/a")):
        (tmp_path / name / content).parent.mkdir(parents=True)
        (tmp_path / name / content).touch()
    (tmp_path / "both" / STAGING).mkdir()

    assert [is_foreign(tmp_path / name) for name in ("file", "files", "both", "folder")] == [True] * 4
    assert [read_manifest(tmp_path / name) for name in ("file", "files", "both", "folder")] == [None] * 4


# entries

BELIEVED = [
    "a.html",
    "a/b/c.html",
    "..a",
    "a..",
    "a/..b/c",
    "...",
    ".hidden",
    "a:b",
    "ab:c",
    "1",
    "\xfc/\xdf.html",
    "\ud7ff",
    "\ue000",
    "\U0001f331",
]
REFUSED = [
    "",
    "/",
    "/etc/passwd",
    "..",
    "../a",
    "a/..",
    "a/../b",
    "a/b/../../../c",
    "C:/a",
    "c:a",
    "a\\b",
    "..\\a",
    "a\ud800b",
    "a\udfffb",
    "a\0b",
]


def test_addresses(tmp_path: Path) -> None:
    """An address that leads out of the folder, on any system, is not believed."""
    named = {address: ["aa", 1] for address in [*BELIEVED, *REFUSED]}
    believed = {address: ("aa", 1) for address in BELIEVED if address[1:2] != ":"}

    assert read(tmp_path, named) == believed


PARTS = st.sampled_from(["a", "b.html", "..", ".", "", "C:", "\\", "...", "/"])


@given(st.lists(st.lists(PARTS, min_size=1, max_size=5), max_size=4))
def test_no_address_leads_out_of_the_folder(
    tmp_path_factory: pytest.TempPathFactory, parts: list[list[str]]
) -> None:
    """Whatever is believed stays below the folder, by the rules of either family of systems."""
    folder = tmp_path_factory.getbasetemp()
    believed = read(folder, {"/".join(each): ["aa", 1] for each in parts})
    assert isinstance(believed, dict)
    for address in believed:
        for root in (PurePosixPath("/site"), PureWindowsPath("C:/site")):
            path = root / address
            assert path.is_relative_to(root)
            assert ".." not in path.parts
    assert {"/".join(each) for each in parts if set(each) <= {"a", "b.html", "..."}} <= set(believed)


def test_fingerprints(tmp_path: Path) -> None:
    """What is no pair of a digest and a size stands for unknown content."""
    files = {
        "a": ["aa", 1],
        "b": ["aa"],
        "c": ["aa", 1, 2],
        "d": [1, "aa"],
        "e": None,
        "f": "aa",
        "g": ["aa", "1"],
    }

    assert read(tmp_path, files) == {"a": ("aa", 1)} | dict.fromkeys("bcdefg", UNKNOWN_CONTENT)


def test_a_list_of_addresses(tmp_path: Path) -> None:
    """The oldest form only names files; what is no address is left out."""
    assert read(tmp_path, ["a.html", "../b", 3, None, "c.html"]) == {"a.html": ("", -1), "c.html": ("", -1)}
