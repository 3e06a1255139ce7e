"""Transcripts: captions put together to sentences, and what of a file cannot be read."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.notes.check.sentences.transcript import LONGEST, read_transcript

VTT = """\
WEBVTT

NOTE by hand

00:00:01.000 --> 00:00:03.000
<v Ann>We picked 1.33 kg on the 12. of

00:01:02.500 --> 00:01:05.000
July &amp; more.  Then we stopped!
"""
SRT = """\
1
00:00:01,000 --> 00:00:03,000
On day

2
00:00:04,000 --> 00:00:05,000
ninety-eight.
"""


def _read(tmp_path: Path, name: str, text: str | bytes) -> list[tuple[str, float | None, int]]:
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    sentences = read_transcript(path).sentences
    return [(each.text, each.cue_at(len(each.text) - 1).start, each.cue_at(0).line) for each in sentences]


def test_webvtt(tmp_path: Path) -> None:
    """A sentence runs across captions, without tags; each word has the time of its caption."""
    assert _read(tmp_path, "a.vtt", VTT) == [
        ("We picked 1.33 kg on the 12. of July & more.", 62, 5),
        ("Then we stopped!", 62, 8),
    ]


def test_srt(tmp_path: Path) -> None:
    """SRT is read as WebVTT is."""
    assert _read(tmp_path, "a.srt", SRT) == [("On day ninety-eight.", 4, 2)]


def test_plain_text(tmp_path: Path) -> None:
    """Plain text has lines and no times; a German ordinal and a short form end no sentence."""
    text = "Am 12. Juli waren es drei.\n\nCa. vier am 3. Tag. Und 2 oz. more.\r\n"
    assert _read(tmp_path, "a.txt", text) == [
        ("Am 12. Juli waren es drei.", None, 1),
        ("Ca. vier am 3. Tag.", None, 3),
        ("Und 2 oz. more.", None, 3),
    ]


def test_captions_that_roll_up_are_read_once(tmp_path: Path) -> None:
    """A caption that repeats the one before it and adds words adds those words."""
    rolling = "WEBVTT\n\n00:01.000 --> 00:02.000\nwe picked eleven\n"
    rolling += "\n00:02.000 --> 00:03.000\nwe picked eleven of twelve\n"
    assert [text for text, _, _ in _read(tmp_path, "a.vtt", rolling)] == ["we picked eleven of twelve"]


def test_captions_without_stops_are_broken(tmp_path: Path) -> None:
    """Captions without a full stop are broken where one begins, once they are too long for a sentence."""
    lines = "".join(f"\n00:{n:02}.000 --> 00:{n + 1:02}.000\n{n} two three four five\n" for n in range(30))
    assert max(len(text.split()) for text, _, _ in _read(tmp_path, "a.vtt", f"WEBVTT\n{lines}")) == LONGEST


@pytest.mark.parametrize(
    ("name", "text", "finding"),
    [
        (
            "a.vtt",
            b"1\n00:00:01.000 --> 00:00:02.000\nhallo",
            Finding(
                "bad-transcript",
                Source("a.vtt"),
                "`a.vtt` is not WebVTT: its first line is not `WEBVTT`",
                "write `WEBVTT` and an empty line at its beginning",
            ),
        ),
        (
            "a.vtt",
            b"WEBVTT\n\nhallo",
            Finding(
                "bad-transcript",
                Source("a.vtt"),
                "`a.vtt` cannot be read as captions: it has no captions",
                "write the time of each caption as `00:01:02.000 --> 00:01:05.000`, or save it as `.txt`",
            ),
        ),
        (
            "a.txt",
            b"one\ntwo \xff",
            Finding(
                "not-utf8",
                Source("a.txt", 2, 5),
                "`a.txt` is not UTF-8 text",
                "save the file as UTF-8",
                "byte 0xff",
            ),
        ),
        (
            "a.txt",
            b"\xff\xfeo",
            Finding(
                "not-utf8",
                Source("a.txt"),
                "`a.txt` begins as UTF-16 text and does not go on so",
                "save the file as UTF-8",
                "utf-16",
            ),
        ),
        (
            "a.txt",
            b" \n",
            Finding("empty-file", Source("a.txt"), "`a.txt` is empty", "name a file with what was said"),
        ),
    ],
)
def test_files_that_cannot_be_read(tmp_path: Path, name: str, text: bytes, finding: Finding) -> None:
    """What is wrong with a file, where, and how to mend it."""
    (tmp_path / name).write_bytes(text)
    assert read_transcript(tmp_path / name).findings == (finding,)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """A file that cannot be opened."""
    assert [each.code for each in read_transcript(tmp_path / "none.vtt").findings] == ["unreadable-file"]


def test_a_caption_without_a_time_is_left_out(tmp_path: Path) -> None:
    """The other captions are read, and a finding names its line."""
    path = tmp_path / "a.vtt"
    path.write_text("WEBVTT\n\n00:01.000 --> 00:02.000\nOne.\n\nsoon --> later\nTwo.\n")
    found = read_transcript(path)
    assert [each.text for each in found.sentences] == ["One."]
    assert [(each.code, each.source.line, each.found) for each in found.findings] == [
        ("bad-caption", 6, "soon --> later")
    ]


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be", "utf-8"])
@pytest.mark.parametrize("name", ["talk.txt", "talk.vtt"])
def test_a_narration_says_by_its_mark_how_it_is_encoded(tmp_path: Path, name: str, encoding: str) -> None:
    """UTF-16 with a byte order mark, which some recorders write, is read as UTF-8 is."""
    text = "WEBVTT\n\n00:01.000 --> 00:02.000\n" if name.endswith(".vtt") else ""
    (tmp_path / name).write_bytes(f"\ufeff{text}Grün wie im März.\r\n".encode(encoding))
    found = read_transcript(tmp_path / name)

    assert ([each.text for each in found.sentences], found.findings) == (["Grün wie im März."], ())
