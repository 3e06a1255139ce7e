"""A transcript as cues and sentences: WebVTT and SRT by webvtt-py, anything else as plain text.

In: a file. Out: `Transcript`, with findings of what could not be read. Sentences run across cues, each with the time and
the line of the cue that it begins in, and those of any word of it.
"""

from __future__ import annotations

import html
import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from webvtt import WebVTT
from webvtt.errors import MalformedCaptionError, MalformedFileError

from sitegen.core.files.encodings import encoding_of
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.findings.undecodable import undecodable
from sitegen.core.language.months import MONTHS

MAX_BYTES = 4_000_000  # a day of speech has less than one
LONGEST = 60  # words of a sentence: captions without stops are broken at cues
_STAMP = re.compile(r"\d+(?::\d+)+\.\d+")
_SPACES = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " "})
_TAG = re.compile(r"<[^<>\n]*>|\{\\[^{}\n]*\}")
# A full stop ends a sentence unless a small letter or a digit follows, as in "12. Juli" and "1.33 kg".
_STOP = re.compile(r"[!?…]+[\"'”’»)]*\s+|\.+[\"'”’»)]*\s+(?=[^\s])")
_ORDINAL = re.compile(r"\b\d{1,2}$")
_SHORT = re.compile(
    r"\b(?:approx|ca|no|nr|st|vs|bzw|max|min|oz|lb|lbs|in|ft|fl|gal|tsp|[a-z])$", re.IGNORECASE
)


class Cue(NamedTuple):
    """What was said from a time on; plain text has none."""

    start: float | None
    text: str
    line: int


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence; `places` are the offsets in it at which another cue begins."""

    text: str
    cues: tuple[Cue, ...]
    places: tuple[int, ...]

    def cue_at(self, offset: int) -> Cue:
        """The cue of a place in the text."""
        return self.cues[max(0, bisect_right(self.places, offset) - 1)]


@dataclass(frozen=True, slots=True)
class Transcript:
    """The sentences of a file, none where it cannot be read."""

    sentences: tuple[Sentence, ...] = ()
    findings: tuple[Finding, ...] = ()


def read_transcript(path: Path) -> Transcript:
    """The transcript in a file; its ending says which kind it is."""
    source = Source(path.name)
    text = _text(path, source)
    if isinstance(text, Finding):
        return Transcript(findings=(text,))
    if not text.strip():
        message = f"`{source.file}` is empty"
        return Transcript(
            findings=(Finding("empty-file", source, message, "name a file with what was said"),)
        )
    ending = path.suffix.lower()
    if ending not in (".vtt", ".srt"):
        cues = [Cue(None, line.strip(), n) for n, line in enumerate(text.split("\n"), 1) if line.strip()]
        return Transcript(tuple(sentences_of(cues)))
    return _captions(text, ending[1:], source)


def _text(path: Path, source: Source) -> str | Finding:
    try:
        size = path.stat().st_size
        if size > MAX_BYTES:
            message = f"`{source.file}` has {size / 1e6:.1f} MB; at most {MAX_BYTES / 1e6:.0f} MB are read"
            return Finding("file-too-large", source, message, "name the transcript of one episode")
        raw = path.read_bytes()
    except OSError as error:
        message = f"`{source.file}` cannot be opened: {error.strerror or error}"
        mend = "check that it is a file and that you may read it"
        return Finding("unreadable-file", source, message, mend)
    try:
        text = encoding_of(raw).text(raw)
    except UnicodeDecodeError as error:
        return undecodable(raw, error, source.file)
    return text.replace("\r\n", "\n").replace("\r", "\n").translate(_SPACES)


def _captions(text: str, kind: str, source: Source) -> Transcript:
    try:
        read = WebVTT.from_buffer(text.split("\n"), format=kind)
    except (MalformedFileError, MalformedCaptionError) as error:
        return Transcript(findings=(_malformed(text, kind, source, str(error)),))
    lines, cues, findings = text.split("\n"), [], []
    timed = [n for n, line in enumerate(lines, 1) if "-->" in line]
    found = list(read.captions)
    for n in timed:
        stamp = lines[n - 1].split("-->")[0].strip().replace(",", ".")
        if found and _same_time(found[0].start, stamp):
            caption = found.pop(0)
            cues.append(Cue(caption.start_in_seconds, _spoken(caption.raw_text), n))
        else:
            findings.append(_unread(lines[n - 1], Source(source.file, n)))
    if not cues:
        findings.append(_malformed(text, kind, source, "it has no captions"))
    return Transcript(tuple(sentences_of(_once(cues))), tuple(findings))


def _same_time(start: str, stamp: str) -> bool:
    """Whether two time stamps are of the same moment: the library fills up what is short."""
    return bool(_STAMP.fullmatch(stamp)) and _seconds(start) == _seconds(stamp)


def _seconds(stamp: str) -> float:
    whole = 0.0
    for part in stamp.split(":"):
        whole = whole * 60 + float(part[:12])
    return round(whole, 3)


def _malformed(text: str, kind: str, source: Source, why: str) -> Finding:
    if kind == "vtt" and not text.startswith("WEBVTT"):
        message = f"`{source.file}` is not WebVTT: its first line is not `WEBVTT`"
        return Finding("bad-transcript", source, message, "write `WEBVTT` and an empty line at its beginning")
    arrow = next((n for n, line in enumerate(text.split("\n"), 1) if "-->" in line), 1)
    message = f"`{source.file}` cannot be read as captions: {' '.join(why.split())}"
    mend = "write the time of each caption as `00:01:02.000 --> 00:01:05.000`, or save it as `.txt`"
    return Finding("bad-transcript", Source(source.file, arrow), message, mend)


def _unread(line: str, source: Source) -> Finding:
    message = "a caption whose time cannot be read was left out"
    mend = "write its time as `00:01:02.000 --> 00:01:05.000`"
    return Finding("bad-caption", source, message, mend, found=line.strip())


def _spoken(raw: str) -> str:
    """The words of a caption, without tags of voices and styles."""
    return " ".join(html.unescape(_TAG.sub(" ", raw)).split())


def _once(cues: Sequence[Cue]) -> Iterator[Cue]:
    """Cues without what the cue before them said already, as captions that roll up do."""
    before = ""
    for cue in cues:
        text = cue.text
        if before and text.startswith(before) and len(before.split()) > 2:
            text = text[len(before) :].strip()
        before = cue.text
        if text:
            yield Cue(cue.start, text, cue.line)


def sentences_of(cues: Iterator[Cue] | Sequence[Cue]) -> Iterator[Sentence]:
    """Sentences put together across cues."""
    text, begins, known = "", [], []
    for cue in cues:
        begins.append(len(text))
        known.append(cue)
        text += cue.text + " "
    for begin, end in _spans(text, begins):
        first = max(0, bisect_right(begins, begin) - 1)
        last = bisect_right(begins, end - 1)
        said = text[begin:end]
        lead = len(said) - len(said.lstrip())
        if words := said.strip():
            places = tuple(place - begin - lead for place in begins[first:last])
            yield Sentence(words, tuple(known[first:last]), places)


def _spans(text: str, cues: Sequence[int]) -> Iterator[tuple[int, int]]:
    begin = 0
    for found in _STOP.finditer(text):
        if _inside(text, found.start(), found.end()):
            continue
        yield from _broken(text, begin, found.end(), cues)
        begin = found.end()
    yield from _broken(text, begin, len(text), cues)


def _inside(text: str, stop: int, after: int) -> bool:
    """Whether a full stop belongs to an ordinal or to a short form."""
    if text[stop] != ".":
        return False
    before, follows = text[max(0, stop - 8) : stop], text[after : after + 1]
    if _ORDINAL.search(before):
        return follows.islower() or _month_follows(text[after : after + 12])
    return follows.islower() and bool(_SHORT.search(before))


def _month_follows(text: str) -> bool:
    return re.split(r"\W", text.lower(), maxsplit=1)[0] in {*MONTHS, "tag"}


def _broken(text: str, begin: int, end: int, cues: Sequence[int]) -> Iterator[tuple[int, int]]:
    """A stretch without stops, broken where cues begin once it is too long for a sentence."""
    for cue in cues:
        if begin < cue < end and len(text[begin:cue].split()) >= LONGEST:
            yield begin, cue
            begin = cue
    if begin < end:
        yield begin, end
