"""Text files, read safely: bounded in size, UTF-8 or UTF-16 with its mark, and a finding where that fails.

In: the journal's folder and a relative name. Out: the text, or None and a finding.
"""

from __future__ import annotations

import codecs
import errno
from pathlib import Path

from sitegen.core.findings.finding import Findings, Source
from sitegen.core.site.inside import is_regular
from sitegen.ingest.outside import is_outside

MAX_BYTES = 1_000_000  # a season's log has some 30 KB; sensor exports have their own limit
MAX_EXPORT_BYTES = 64_000_000
# Byte order marks, the longer ones first, since they begin as the shorter ones do.
_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def name_of(path: Path, root: Path) -> str:
    """The name of a file in findings: relative to the journal, with forward slashes."""
    return path.relative_to(root).as_posix()


def read_text(path: Path, root: Path, findings: Findings, *, limit: int = MAX_BYTES) -> str | None:
    """The text of a file, without a byte order mark and with plain line ends."""
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
    return decoded(raw, source, findings)


def decoded(raw: bytes, source: Source, findings: Findings) -> str | None:
    """The text of some bytes, without a byte order mark and with plain line ends."""
    encoding = next((name for mark, name in _MARKS if raw.startswith(mark)), "utf-8-sig")
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError as error:
        if encoding != "utf-8-sig":
            message = f"`{source.file}` begins as UTF-16 text and does not go on so"
            findings.add("not-utf8", source, message, mend="save the file as UTF-8", found=encoding)
            return None
        before = raw[: error.start]
        line = before.count(b"\n") + 1
        column = len(before[before.rfind(b"\n") + 1 :].decode("utf-8", "replace").removeprefix("\ufeff")) + 1
        place, message = Source(source.file, line, column), f"`{source.file}` is not UTF-8 text"
        found = f"byte 0x{raw[error.start]:02x}"
        findings.add("not-utf8", place, message, mend="save the file as UTF-8", found=found)
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n")
