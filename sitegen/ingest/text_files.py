"""Text files, read safely: bounded in size and in their lines, UTF-8 or UTF-16 with its mark, and a finding where not.

In: the journal's folder and a relative name. Out: the text, or None and a finding.
"""

from __future__ import annotations

import errno
from pathlib import Path

from sitegen.core.files.encodings import encoding_of
from sitegen.core.files.inside import is_regular
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.mend import Mend, replacement
from sitegen.core.findings.source import Source
from sitegen.core.findings.undecodable import undecodable
from sitegen.core.language.hidden_characters import hidden_at, said
from sitegen.ingest.outside import is_outside

MAX_BYTES = 1_000_000  # a season's log has some 30 KB; sensor exports have their own limit
MAX_EXPORT_BYTES = 64_000_000
MAX_LINE = (
    20_000  # characters: some twelve printed pages; what looks for faults in a line reads it several times
)


def name_of(path: Path, root: Path) -> str:
    """The name of a file in findings: relative to the journal, with forward slashes."""
    return path.relative_to(root).as_posix()


def is_file(path: Path) -> bool:
    """Whether a file is there: none is under a name that an author wrote and no file can have, such as a long one."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def read_text(
    path: Path, root: Path, findings: Findings, *, limit: int = MAX_BYTES, longest: int = MAX_LINE
) -> str | None:
    """The text of a file, without a byte order mark and with plain line ends; none of its lines is above `longest`."""
    if is_outside(path, root, findings):
        return None
    source = Source(name_of(path, root))
    try:
        found_file = path.stat()
        size = found_file.st_size
        if size > limit:
            message = f"`{source.file}` has {size / 1e6:.1f} MB; at most {limit / 1e6:.0f} MB are read"
            mend = "split the experiment, or keep readings in a spreadsheet beside it"
            found, expected = f"{size} bytes", f"at most {limit} bytes"
            findings.add("file-too-large", source, message, mend=mend, found=found, expected=expected)
            return None
        if not is_regular(found_file) and not path.is_dir():
            raise OSError(errno.EINVAL, "it is no file")
        raw = path.read_bytes()
    except OSError as error:
        message = f"`{source.file}` cannot be opened: {error.strerror or error}"
        findings.add(
            "unreadable-file", source, message, mend="check that it is a file and that you may read it"
        )
        return None
    return decoded(raw, source, findings, longest)


def decoded(raw: bytes, source: Source, findings: Findings, longest: int = MAX_LINE) -> str | None:
    """The text of some bytes, without a byte order mark and with plain line ends."""
    try:
        text = encoding_of(raw).text(raw)
    except UnicodeDecodeError as error:
        findings.extend([undecodable(raw, error, source.file)])
        return None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return None if _has_long_line(text, source, findings, longest) else text


def has_hidden(text: str, file: str, findings: Findings, *, controls: bool = True) -> bool:
    """Whether a text holds a character that none may hold, which is a finding at its place."""
    place = hidden_at(text, controls=controls)
    if place is None:
        return False
    source = Source(file, text.count("\n", 0, place) + 1, place - text.rfind("\n", 0, place))
    report_hidden(text[place], source, findings, replacement(source, text[place], ""))
    return True


def report_hidden(character: str, source: Source, findings: Findings, mend: str | Mend) -> None:
    """A finding for a character that no text may hold."""
    message = f"a character that cannot be seen stands here: {said(character)}"
    found = f"U+{ord(character):04X}"
    findings.add("hidden-character", source, message, mend=mend, found=found)


def _has_long_line(text: str, source: Source, findings: Findings, longest: int) -> bool:
    """Whether a line is longer than those that are read, which is a finding."""
    return without_long_lines(text, source, findings, longest) is not text


def without_long_lines(text: str, source: Source, findings: Findings, longest: int = MAX_LINE) -> str:
    """A text with each line emptied that is longer than those that are read, and a finding for each; else the same."""
    if len(text) <= longest:
        return text
    lines = text.split("\n")
    long = [number for number, line in enumerate(lines) if len(line) > longest]
    for number in long:
        report_too_long(findings, Source(source.file, number + 1), "this line", len(lines[number]), longest)
        lines[number] = ""
    return "\n".join(lines) if long else text


def report_too_long(findings: Findings, source: Source, what: str, length: int, longest: int) -> None:
    """A finding for a text that is longer than what is read."""
    message = f"{what} has {length:,} characters; at most {longest:,} are read"
    mend = "shorten it, or divide it"
    findings.add(
        "text-too-long", source, message, mend=mend, found=str(length), expected=f"at most {longest}"
    )
