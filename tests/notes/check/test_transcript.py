"""Narrations from files: captions and plain text, put together to sentences with their times."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.notes.check.report import check_narration
from sitegen.notes.check.transcript import Sentence, read_transcript
from tests.notes.materials import of_demo

VTT = """WEBVTT

NOTE made by hand

00:00:02.500 --> 00:00:05.000
<v Keeper>Eleven of the twelve seeds came up.

00:00:05.500 --> 00:00:09.000
I moved plant three on day

00:00:09.000 --> 00:00:11.000
sixty-three. That was all.
"""
SRT = """1
00:01:02,500 --> 00:01:05,000
Eleven of the twelve seeds came up.

2
00:01:05,500 --> 00:01:09,000
It was 1.5 litres.
"""


def test_captions_become_sentences(tmp_path: Path) -> None:
    """A sentence over two captions begins at the time of the first; marks of a voice are left out."""
    path = tmp_path / "narration.vtt"
    path.write_text(VTT, "utf-8")
    assert read_transcript(path) == (
        (
            Sentence("Eleven of the twelve seeds came up.", 2.5),
            Sentence("I moved plant three on day sixty-three.", 5.5),
            Sentence("That was all.", 9.0),
        ),
        (),
    )


def test_subrip(tmp_path: Path) -> None:
    """The older form of captions; a decimal point ends no sentence."""
    path = tmp_path / "narration.srt"
    path.write_text(SRT, "utf-8")
    found = (Sentence("Eleven of the twelve seeds came up.", 62.5), Sentence("It was 1.5 litres.", 65.5))
    assert read_transcript(path) == (found, ())


def test_plain_text_has_no_times(tmp_path: Path) -> None:
    """A text file is read as it is; a date in German ends no sentence."""
    path = tmp_path / "narration.txt"
    path.write_text("Gesät am 5. April.\nAufgegangen sind elf.\n", "utf-8")
    assert read_transcript(path) == ((Sentence("Gesät am 5. April."), Sentence("Aufgegangen sind elf.")), ())


@pytest.mark.parametrize(
    ("name", "content", "message"),
    [
        ("a.vtt", b"no captions at all", "`a.vtt` cannot be read as captions"),
        ("a.txt", b"caf\xe9", "`a.txt` is not UTF-8"),
        ("a.srt", b"", "`a.srt` cannot be read as captions"),
    ],
)
def test_what_cannot_be_read_is_a_finding(tmp_path: Path, name: str, content: bytes, message: str) -> None:
    """A file that is no narration is named, with what to do."""
    path = tmp_path / name
    path.write_bytes(content)
    sentences, (finding,) = read_transcript(path)
    assert sentences == ()
    assert finding.message.startswith(message)
    assert finding.mend


def test_the_report(tmp_path: Path) -> None:
    """A line for each number with its time, a summary, and a line for the log about what was wrong."""
    path = tmp_path / "narration.vtt"
    path.write_text(VTT, "utf-8")
    material = of_demo("pebble-two-lamps")
    checked = check_narration(path, material.facts, material.wording, "6 plants")
    text = checked.text()
    assert text.splitlines()[2].startswith(" 0:02  “11 of the 12”: right: germination, share (line ")
    assert "3 numbers: 2 right, 1 wrong" in text
    assert (
        '  - {date: YYYY-MM-DD, text: "The episode says “on day 63”; the log has day\u00a066 (move), 3 days off."}'
        in text
    )
    assert [(each["at"], each["verdict"]) for each in checked.data()["claims"]] == [
        (None, "right"),
        (2.5, "right"),
        (5.5, "wrong"),
    ]
