"""How the text of a file is encoded: UTF-8, or what its byte order mark says.

In: the content of a file. Out: `Encoding`, which decodes it, and writes a text as the file has it.
"""

from __future__ import annotations

import codecs
from typing import NamedTuple

# Byte order marks, the longer ones first, since they begin as the shorter ones do.
_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
    (codecs.BOM_UTF8, "utf-8"),
)


class Encoding(NamedTuple):
    """The mark that a file begins with, empty without one, and the name of its encoding."""

    mark: bytes
    name: str

    @property
    def said(self) -> str:
        """Its name for people: UTF-16."""
        return self.name.upper().removesuffix("-LE").removesuffix("-BE")

    def text(self, content: bytes) -> str:
        """The text of a content, without its mark.

        Raises
        ------
        UnicodeDecodeError
            Where it is not in this encoding.

        """
        return content.removeprefix(self.mark).decode(self.name)

    def content(self, text: str) -> bytes:
        """A text as the file has it, with its mark."""
        return self.mark + text.encode(self.name)


def as_utf8(content: bytes) -> bytes:
    """A content of another encoding as UTF-8; one that says none stays as it is, its mark included.

    Raises
    ------
    UnicodeDecodeError
        Where it is not in the encoding that its mark says.

    """
    encoding = encoding_of(content)
    return content if encoding.name == "utf-8" else encoding.text(content).encode()


def encoded_as(utf8: bytes, there: bytes) -> bytes:
    """What `as_utf8` gave, or a part of it, in the encoding of a file that is there."""
    encoding = encoding_of(there)
    return utf8 if encoding.name == "utf-8" else encoding.content(utf8.decode())


def encoding_of(content: bytes) -> Encoding:
    """The encoding that a file's first bytes say; UTF-8 where they say none."""
    return next((Encoding(*each) for each in _MARKS if content.startswith(each[0])), Encoding(b"", "utf-8"))
