"""Text files: what is opened, how it is decoded, how much is read; and the folder that they lie in."""

from __future__ import annotations

import codecs
import os
from pathlib import Path

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.ingest import find_root, read_experiment, read_journal
from sitegen.ingest.text_files import MAX_BYTES, read_text
from tests.cases import Case
from tests.ingest.builders import HEAD, found, said


def _text(tmp_path: Path, content: bytes) -> tuple[str | None, list[str]]:
    (tmp_path / "f.yaml").write_bytes(content)
    findings = Findings()
    return read_text(tmp_path / "f.yaml", tmp_path, findings), said(findings)


@pytest.mark.parametrize(
    "content",
    [
        b"a: 1\nb: 2\n",
        b"a: 1\r\nb: 2\r\n",
        b"a: 1\rb: 2\r",
        b"\xef\xbb\xbfa: 1\nb: 2\n",
        codecs.BOM_UTF16_LE + "a: 1\r\nb: 2\r\n".encode("utf-16-le"),
        codecs.BOM_UTF16_BE + "a: 1\nb: 2\n".encode("utf-16-be"),
        codecs.BOM_UTF32_LE + "a: 1\nb: 2\n".encode("utf-32-le"),
    ],
    ids=["plain", "windows", "old mac", "byte order mark", "UTF-16", "UTF-16, big end first", "UTF-32"],
)
def test_line_ends_and_mark(content: bytes, tmp_path: Path) -> None:
    """Line ends of every system are read alike, with a byte order mark or without."""
    assert _text(tmp_path, content) == ("a: 1\nb: 2\n", [])


@pytest.mark.parametrize(
    ("content", "place"),
    [
        (b"title: Fr\xfchling\n", "1:10"),
        ("a: 1\nü: ".encode() + b"\xff\n", "2:4"),
        ("\ufeffa: 1\rb: 2\r\nc: \u2028d: ".encode() + b"\xff\n", "4:4"),
    ],
)
def test_error_not_utf8(content: bytes, place: str, tmp_path: Path) -> None:
    """Text in another encoding is refused at its first strange byte, counted in characters."""
    assert _text(tmp_path, content) == (
        None,
        [f"{place}: not-utf8: `f.yaml` is not UTF-8 text (save the file as UTF-8)"],
    )


def test_error_half_a_character(tmp_path: Path) -> None:
    """A text that begins as UTF-16 and ends in the middle of a character is refused."""
    assert _text(tmp_path, codecs.BOM_UTF16_LE + b"a\x00b") == (
        None,
        ["1:1: not-utf8: `f.yaml` begins as UTF-16 text and does not go on so (save the file as UTF-8)"],
    )


def test_error_too_large(tmp_path: Path) -> None:
    """A text beyond a megabyte is not read."""
    assert _text(tmp_path, b"#" * (MAX_BYTES + 1)) == (
        None,
        [
            (
                "1:1: file-too-large: `f.yaml` has 1.0 MB; at most 1 MB are read "
                "(split the experiment, or keep readings in a spreadsheet beside it)"
            )
        ],
    )


def test_as_large_as_is_read(tmp_path: Path) -> None:
    """A text of exactly a megabyte is read."""
    assert _text(tmp_path, b"####\n" * (MAX_BYTES // 5))[1] == []


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_error_no_permission(tmp_path: Path) -> None:
    """A file that may not be read says so."""
    (tmp_path / "f.yaml").touch(mode=0o000)
    findings = Findings()

    assert read_text(tmp_path / "f.yaml", tmp_path, findings) is None
    assert [finding.code for finding in findings] == ["unreadable-file"]


def test_find_root(tmp_path: Path) -> None:
    """The journal is the nearest folder upwards that holds journal.yaml."""
    root = Case("", "", (("a/b/notes.txt", b""),), "").write(tmp_path / "bench")

    assert find_root(root / "a" / "b") == root
    assert find_root(tmp_path) is None


def test_windows_journal(tmp_path: Path) -> None:
    """A journal written on Windows, with marks and its line ends, has its findings at the same places."""
    text = f"{HEAD}log:\n  - {{day: 3, height: 9}}\n".replace("\n", "\r\n")
    case = Case("", "", (("seasons/spring/run/experiment.yaml", b"\xef\xbb\xbf" + text.encode()),), "")
    journal_files, findings = read_journal(case.write(tmp_path / "windows"))
    assert journal_files is not None

    assert said(findings) == []
    assert said(read_experiment(journal_files.folders[0], journal_files)[1]) == found(
        tmp_path / "unix", "  - {day: 3, height: 9}\n"
    )


def test_hidden_folders_are_not_read(tmp_path: Path) -> None:
    """Folders that begin with a full stop or an underscore are passed over."""
    files = ((".git/x", b""), ("seasons/.trash/x", b""), ("seasons/spring/_old/x", b""))
    _, findings = read_journal(Case("", "", files, "").write(tmp_path))

    assert said(findings) == []


def test_free_pages(tmp_path: Path) -> None:
    """Markdown files at the top are pages of their own, in order of their names."""
    files = (("b.md", b"Two\n"), ("about.md", b"One\n"))
    journal_files, _ = read_journal(Case("", "", files, "").write(tmp_path))
    assert journal_files is not None

    assert [(page.name, page.markdown, page.source.file) for page in journal_files.pages] == [
        ("about", "One\n", "about.md"),
        ("b", "Two\n", "b.md"),
    ]
