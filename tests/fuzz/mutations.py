"""Small changes of an input that know how such inputs are built: tokens of YAML, cells, lines, segments of pictures.

In: an input, other inputs, tokens, a random number generator. Out: a new input.
"""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import random
import re
import struct
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass

_WORDS = re.compile(rb"[A-Za-z0-9_]+|\s+|[^A-Za-z0-9_\s]")
_GAP = re.compile(rb"\s+")
_NUMBER = re.compile(rb"\d+(?:[.,]\d+)?")
_NUMBERS = (
    b"0", b"-1", b"1e9", b"1e400", b"9999-12-31", b"0001-01-01", b"99999999999999999999", b"0.1", b"1,5", b"007", b"1/2", b"nan", b"inf",
    b"-0", b"2025-02-30", b"10/11/2025", b"31.12.", b"1e-320", b"\xc2\xbd", b"\xd9\xa3", b"\xe2\x85\xa7", b"24:00", b"12:60", b"1_000",
    b"2147483648", b"18446744073709551616", b"1.2.3", b"--1", b"+5", b"5-3", b"5-", b"~5", b"5+", b"?", b"0x1F", b"0o7", b"1e5",
)  # fmt: skip
_SIGNS = (
    b"\n", b"\r\n", b"\r", b"\t", b"\0", b"\xff", b"\xef\xbb\xbf", b"\xe2\x80\xa8", b"\xc2\x85", b"\xe2\x80\xae", b"\xf0\x9f\x98\x80", b"\xcc\x88",
    b"\xed\xa0\x80", b"\xee\x80\x80", b"\xee\x80\x81", b"\xc2\xa0", b"\x0c", b"\x1c", b": ", b" #", b"- ", b"? ", b"|\n", b">\n", b"{", b"}", b"[", b"]", b",",
    b"'", b'"', b"&a ", b"*a", b"!!str ", b"%", b"@", b"`", b"\\", b"---\n", b"...\n", b";", b"<", b">", b"<b>", b"</b>", b"&lt;", b"&#0;",
    b"{{ ", b" }}", b"{% ", b" %}", b"{#", b"#}", b"..", b"../", b"/", b"//", b"$", b"\x1b[0m", b"  ", b"    ",
)  # fmt: skip
_DEEP = (b"[", b"{a: ", b"- ", b"> ", b"* ", b"(", b"((", b"<b>", b'{"a":', b"_", b"**", b"![", b"  ")


@dataclass(frozen=True, slots=True)
class Mutator:
    """Changes inputs of one kind."""

    kind: str
    tokens: Sequence[bytes]
    others: Sequence[bytes]
    longest: int

    def changed(self, data: bytes, rng: random.Random) -> bytes:
        """An input after a few changes."""
        table = _TABLES[self.kind]
        for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 5))):
            data = rng.choice(table)(data, self, rng)
        return data[: self.longest]

    def token(self, rng: random.Random) -> bytes:
        """Something that may mean something."""
        choice = rng.randrange(4)
        if choice < 2 and self.tokens:
            return rng.choice(self.tokens)
        return rng.choice(_NUMBERS if choice == 3 else _SIGNS)

    def other(self, rng: random.Random) -> bytes:
        """Another input."""
        return rng.choice(self.others) if self.others else b""


Change = Callable[[bytes, Mutator, random.Random], bytes]


def _insert(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    """A token at the end, before a line end or a space, or anywhere."""
    places = [len(data), *(found.start() for found in _GAP.finditer(data))]
    at = rng.choice(places) if rng.random() < 0.6 else rng.randint(0, len(data))
    return data[:at] + by.token(rng) + data[at:]


def _bytes(data: bytes, _by: Mutator, rng: random.Random) -> bytes:
    if not data:
        return bytes([rng.randrange(256)])
    at, new = rng.randrange(len(data)), rng.randbytes(rng.choice((0, 1, 1, 2, 4)))
    return data[:at] + new + data[at + rng.choice((0, 1, 1, 2, 4)) :]


def _bit(data: bytes, _by: Mutator, rng: random.Random) -> bytes:
    if not data:
        return data
    at = rng.randrange(len(data))
    return data[:at] + bytes([data[at] ^ (1 << rng.randrange(8))]) + data[at + 1 :]


def _word(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    """One word replaced: by a token, by another word of the input, or by nothing."""
    words = list(_WORDS.finditer(data))
    if not words:
        return _insert(data, by, rng)
    old = rng.choice(words)
    new = rng.choice((by.token(rng), rng.choice(words)[0], b"", old[0] * 2))
    return data[: old.start()] + new + data[old.end() :]


def _number(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    numbers = list(_NUMBER.finditer(data))
    if not numbers:
        return _insert(data, by, rng)
    old = rng.choice(numbers)
    return data[: old.start()] + rng.choice((*_NUMBERS, b"%d" % rng.randint(-3, 400))) + data[old.end() :]


def _lines(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    """Lines left out, repeated, moved, or taken from another input."""
    lines = data.splitlines(keepends=True)
    if not lines:
        return by.other(rng)
    start = rng.randrange(len(lines))
    stop = start + rng.choice((1, 1, 2, 4))
    taken, at = lines[start:stop], rng.randint(0, len(lines))
    choice = rng.randrange(5)
    if choice == 0:
        return b"".join(lines[:start] + lines[stop:])
    if choice == 1:
        return b"".join(lines[:at] + taken + lines[at:])
    if choice == 2:
        rest = lines[:start] + lines[stop:]
        return b"".join(rest[:at] + taken + rest[at:])
    if choice == 3:
        lines[start] = (
            rng.choice((b"  ", b" ", b"\t", b"- ")) + lines[start]
            if rng.random() < 0.6
            else lines[start].lstrip()
        )
        return b"".join(lines)
    theirs = by.other(rng).splitlines(keepends=True)
    begin = rng.randrange(len(theirs)) if theirs else 0
    return b"".join(lines[:at] + theirs[begin : begin + rng.choice((1, 2, 4))] + lines[at:])


def _cut(data: bytes, _by: Mutator, rng: random.Random) -> bytes:
    start, stop = sorted((rng.randint(0, len(data)), rng.randint(0, len(data))))
    return data[:start] + data[stop:] if rng.random() < 0.5 else data[:stop]


def _splice(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    other = by.other(rng)
    return data[: rng.randint(0, len(data))] + other[rng.randint(0, len(other)) :]


def _repeat(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    """A piece many times over: what is quadratic, or nested too deep, shows."""
    at = rng.randint(0, len(data))
    piece = rng.choice((*_DEEP, by.token(rng), data[at : at + rng.choice((1, 2, 8, 40))]))
    return data[:at] + piece * rng.choice((2, 3, 10, 100, 400)) + data[at:]


def _cell(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    """One cell of a line replaced, left out or repeated; or another separator."""
    lines = data.split(b"\n")
    at = rng.randrange(len(lines))
    sign = max((b",", b";", b"\t"), key=lines[at].count)
    cells = lines[at].split(sign)
    place = rng.randrange(len(cells))
    choice = rng.randrange(5)
    if choice == 0:
        del cells[place]
    elif choice == 1:
        cells.insert(place, cells[place])
    elif choice == 2:
        cells[place] = by.token(rng)
    elif choice == 3:
        cells[place] = b'"' + cells[place] + b'"'
    else:
        sign = rng.choice((b",", b";", b"\t", b"|"))
    lines[at] = sign.join(cells)
    return b"\n".join(lines)


def _jpeg(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    """The segments of a JPEG, each with a sound length, one of them changed, left out, repeated or moved."""
    parts = _segments(data)
    if len(parts) < 2:
        return _bytes(data, by, rng)
    at = rng.randrange(1, len(parts))
    marker, payload = parts[at][:2], parts[at][4:]
    choice = rng.randrange(5)
    if choice == 0:
        del parts[at]
    elif choice == 1:
        parts.insert(at, parts[at])
    elif choice == 2:
        parts.insert(rng.randrange(1, len(parts)), parts.pop(at))
    elif choice == 3:
        payload = rng.choice((_bytes, _bit, _cut, _insert))(payload, by, rng)
        parts[at] = marker + struct.pack(">H", (len(payload) + 2) & 0xFFFF) + payload
    else:
        theirs = _segments(by.other(rng))
        parts.insert(at, rng.choice(theirs) if theirs else b"")
    return b"".join(parts)


def _segments(data: bytes) -> list[bytes]:
    """The start, each segment before the scan, and the rest."""
    if not data.startswith(b"\xff\xd8"):
        return [data]
    found, at = [data[:2]], 2
    while at + 4 <= len(data) and data[at] == 0xFF and data[at + 1] != 0xDA:
        stop = at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        found.append(data[at:stop])
        at = stop
    return [*found, data[at:]]


def _chunk(data: bytes, by: Mutator, rng: random.Random) -> bytes:
    """A chunk of a PNG or of a RIFF file changed, with its length and its checksum made sound."""
    png = data.startswith(b"\x89PNG")
    begin = 8 if png else 12
    chunks, at = [], begin
    while at + 8 <= len(data):
        length = (
            int.from_bytes(data[at : at + 4], "big")
            if png
            else int.from_bytes(data[at + 4 : at + 8], "little")
        )
        name = data[at + 4 : at + 8] if png else data[at : at + 4]
        chunks.append((name, data[at + 8 : at + 8 + length]))
        at += 8 + length + (4 if png else length % 2)
    if not chunks or not data.startswith((b"\x89PNG", b"RIFF")):
        return _bytes(data, by, rng)
    place = rng.randrange(len(chunks))
    name, payload = chunks[place]
    choice = rng.randrange(4)
    if choice == 0:
        del chunks[place]
    elif choice == 1:
        chunks.insert(place, chunks[place])
    else:
        chunks[place] = (name, rng.choice((_bytes, _bit, _cut, _insert))(payload, by, rng))
    if png:
        whole = (struct.pack(">I", len(p)) + n + p + struct.pack(">I", zlib.crc32(n + p)) for n, p in chunks)
        return data[:8] + b"".join(whole)
    body = b"".join(n + struct.pack("<I", len(p)) + p + b"\0" * (len(p) % 2) for n, p in chunks)
    return b"RIFF" + struct.pack("<I", len(body) + 4) + data[8:12] + body


_RAW = (_bytes, _bytes, _bit, _cut, _splice, _insert)
_TEXT = (
    _insert,
    _insert,
    _bytes,
    _word,
    _word,
    _word,
    _number,
    _number,
    _lines,
    _lines,
    _lines,
    _cut,
    _splice,
    _repeat,
)
_TABLES: dict[str, tuple[Change, ...]] = {
    "text": _TEXT,
    "cells": (*_TEXT, *(_cell,) * 10),
    "bytes": _RAW,
    "picture": (*_RAW, *(_jpeg, _chunk) * 5),
}
