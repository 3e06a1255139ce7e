"""A narration as sentences with the time at which each begins.

In: a WebVTT or SubRip file (read by webvtt-py), or plain text. Out: `Sentence`s; a finding where a file cannot be read.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from sitegen.core.findings.finding import Finding, Source

LARGEST = 5_000_000  # bytes; hours of speech are a hundredth of it
# A stop that ends a sentence: not that of a decimal number, and not that behind the day of a date in German.
_STOP = re.compile(r"(?<=[.!?…])(?<!\d\.)\s+")
_TAG = re.compile(r"<[^>]*>")


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence, and the second at which its first words are spoken; None in a text without times."""

    text: str
    start: float | None = None


@dataclass(frozen=True, slots=True)
class _Piece:
    """Some words with the second at which they begin."""

    text: str
    start: float | None


def read_transcript(path: Path) -> tuple[tuple[Sentence, ...], tuple[Finding, ...]]:
    """The sentences of a file, and findings: with a finding there are none."""
    source = Source(path.name)
    try:
        if path.stat().st_size > LARGEST:
            return (), (
                Finding("file-too-large", source, f"`{path.name}` is too large", "name the narration itself"),
            )
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        why = error.strerror or str(error)
        return (), (
            Finding("unreadable-file", source, f"`{path.name}` cannot be read: {why}", "name a text file"),
        )
    except UnicodeDecodeError:
        return (), (Finding("not-utf8", source, f"`{path.name}` is not UTF-8", "save it as UTF-8"),)
    if path.suffix.lower() not in (".vtt", ".srt"):
        return sentences([_Piece(text, None)]), ()
    try:
        pieces = list(_captions(path.suffix.lower(), text))
    except Exception as error:
        message = f"`{path.name}` cannot be read as captions: {error or type(error).__name__}"
        return (), (Finding("unreadable-file", source, message, "export it again, or save it as plain text"),)
    return sentences(pieces), ()


def _captions(suffix: str, text: str) -> Iterator[_Piece]:
    import webvtt  # noqa: PLC0415 - only for captions

    file = webvtt.from_buffer(io.StringIO(text), format=suffix[1:])
    for caption in file.captions:
        yield _Piece(_TAG.sub("", caption.text), _seconds(caption.start))


def _seconds(time: str) -> float:
    """`00:01:02.500` in seconds: the library gives whole ones."""
    hours, minutes, seconds = time.split(":")
    return 3600 * int(hours) + 60 * int(minutes) + float(seconds)


def sentences(pieces: Sequence[_Piece]) -> tuple[Sentence, ...]:
    """Whole sentences: one that goes on over several captions begins at the time of its first."""
    text, starts = "", []
    for piece in pieces:
        words = " ".join(piece.text.split())
        if not words:
            continue
        text = f"{text} {words}" if text else words
        starts.append((len(text) - len(words), piece.start))
    found, at = [], 0
    for part in _STOP.split(text):
        place = text.index(part, at)
        at = place + len(part)
        if part.strip():
            found.append(Sentence(part.strip(), _time_at(place, starts)))
    return tuple(found)


def _time_at(place: int, starts: Sequence[tuple[int, float | None]]) -> float | None:
    """The time of the caption that a place in the text lies in."""
    before = [start for begin, start in starts if begin <= place]
    return before[-1] if before else None
