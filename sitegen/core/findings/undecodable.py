"""The finding about a file whose bytes are not the text that they begin as.

In: the bytes, and the error of decoding them. Out: a `Finding` at the first byte that is wrong.
"""

from __future__ import annotations

import re

from sitegen.core.files.encodings import encoding_of
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source

LINE_END = re.compile(r"\r\n|[\n\r\x85\u2028\u2029]")  # as YAML has them
_MEND = "save the file as UTF-8"


def undecodable(raw: bytes, error: UnicodeDecodeError, file: str) -> Finding:
    """The finding about some bytes that `Encoding.text` cannot decode."""
    encoding = encoding_of(raw)
    if encoding.name != "utf-8":
        message = f"`{file}` begins as {encoding.said} text and does not go on so"
        return Finding("not-utf8", Source(file), message, _MEND, encoding.said.lower())
    body = raw.removeprefix(encoding.mark)
    before = LINE_END.split(body[: error.start].decode("utf-8", "replace"))
    place = Source(file, len(before), len(before[-1]) + 1)
    return Finding("not-utf8", place, f"`{file}` is not UTF-8 text", _MEND, f"byte 0x{body[error.start]:02x}")
