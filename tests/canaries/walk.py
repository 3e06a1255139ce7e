"""Every way in which a word can lie in published bytes: the views of a file, and what is found in them.

In: the files of a folder. Out: `Sighting`s. A view is the content as it is, or decoded: compressed members, base64,
percent signs, entities of HTML, escapes of JSON, UTF-16, metadata of pictures; each is decoded again, a few times.
"""

from __future__ import annotations

import base64
import binascii
import contextlib
import gzip
import html
import io
import re
import struct
import warnings
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote_to_bytes

from PIL import ExifTags, Image

from tests.canaries.marks import Canary

DEEPEST = 3
_BASE64 = re.compile(rb"[A-Za-z0-9+/_-]{16,}={0,2}")
_ESCAPE = re.compile(r"\\u([0-9a-fA-F]{4})|\\x([0-9a-fA-F]{2})")
_PICTURES = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF", b"GIF8", b"II*\0", b"MM\0*")
_ZLIB = (b"\x78\x01", b"\x78\x5e", b"\x78\x9c", b"\x78\xda")


@dataclass(frozen=True, slots=True)
class Sighting:
    """A canary that was seen: in which file, and by which view of it."""

    canary: Canary
    file: str
    view: str


def sightings(folder: Path, canaries: Iterable[Canary]) -> list[Sighting]:
    """All canaries in the files of a folder, and in the names of those."""
    searched = _Search(tuple(canaries))
    found: list[Sighting] = []
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        found += (Sighting(canary, name, "name") for canary in searched.within(name.encode()))
        if path.is_file():
            found += searched.of_file(name, path.read_bytes())
    return found


def seen_in(body: bytes, canaries: Iterable[Canary], name: str = "file") -> list[Sighting]:
    """All canaries in the content of one file."""
    return _Search(tuple(canaries)).of_file(name, body)


class _Search:
    """Looks for many words at once, in small letters."""

    def __init__(self, canaries: tuple[Canary, ...]) -> None:
        self._of: dict[bytes, list[Canary]] = {}
        for canary in canaries:
            for form in canary.forms:
                self._of.setdefault(form.lower().encode(), []).append(canary)
        words = sorted(self._of, key=len, reverse=True)
        self._pattern = re.compile(b"|".join(map(re.escape, words)) or rb"(?!)")

    def within(self, body: bytes) -> set[Canary]:
        """The canaries in some bytes as they are."""
        return {canary for word in set(self._pattern.findall(body.lower())) for canary in self._of[word]}

    def of_file(self, name: str, body: bytes) -> list[Sighting]:
        """The canaries in any view of a file, each by the first view that shows it."""
        found: dict[Canary, str] = {}
        for view, content in views(body):
            for canary in self.within(content):
                found.setdefault(canary, view)
        return [Sighting(canary, name, view) for canary, view in found.items()]


def views(body: bytes, *, name: str = "raw", depth: int = 0) -> Iterator[tuple[str, bytes]]:
    """Some bytes, and all that can be decoded from them; each view named by the way to it."""
    yield name, body
    if depth == DEEPEST:
        return
    seen = {body}
    for way, content in _decoded(body):
        if content and content not in seen:
            seen.add(content)
            yield from views(content, name=way if depth == 0 else f"{name}, {way}", depth=depth + 1)


def _decoded(body: bytes) -> Iterator[tuple[str, bytes]]:
    yield from _unpacked(body)
    picture = _is_picture(body)
    if picture:
        yield from _of_picture(body)
    yield from _utf16(body)
    if picture or b"\0" in body[:4096]:
        return
    if b"%" in body:
        yield "percent signs", unquote_to_bytes(body)
    text = body.decode("utf-8", "replace")
    if "&" in text:
        yield "entities", html.unescape(text).encode("utf-8", "replace")
    if "\\" in text:
        yield "escapes", _ESCAPE.sub(_character, text).encode("utf-8", "replace")
    yield from _base64(body)


def _character(match: re.Match[str]) -> str:
    return chr(int(match[1] or match[2], 16))


def _unpacked(body: bytes) -> Iterator[tuple[str, bytes]]:
    """The members of archives, also behind other content, and their heads, which hold names and times."""
    if body[:2] == b"\x1f\x8b":
        with contextlib.suppress(OSError, EOFError, zlib.error):
            yield "gzip", gzip.decompress(body)
    if body[:2] in _ZLIB:
        with contextlib.suppress(zlib.error):
            yield "zlib", zlib.decompressobj().decompress(body)
    if b"PK\x05\x06" in body:
        try:
            with zipfile.ZipFile(io.BytesIO(body)) as archive:
                for member in archive.infolist():
                    head = f"{member.filename} {member.date_time} {member.comment!r} {member.extra!r}"
                    yield "zip, name", head.encode()
                    yield "zip", archive.read(member)
        except (zipfile.BadZipFile, RuntimeError, zlib.error):
            pass


def _utf16(body: bytes) -> Iterator[tuple[str, bytes]]:
    """What stands in two bytes a letter: letters alone, since a mark is made of them."""
    if body.count(b"\0") < 8:
        return
    for start in (0, 1):
        for order in ("utf-16-le", "utf-16-be"):
            text = body[start : start + 4_000_000].decode(order, "ignore")
            yield "UTF-16", text.encode("ascii", "ignore")


def _base64(body: bytes) -> Iterator[tuple[str, bytes]]:
    for match in _BASE64.finditer(body):
        bare = match.group().rstrip(b"=").replace(b"-", b"+").replace(b"_", b"/")
        for skipped in range(4):  # a word before it may have run into it
            part = bare[skipped:]
            part = part[: len(part) - (len(part) % 4 == 1)]
            try:
                decoded = base64.b64decode(part + b"=" * (-len(part) % 4))
            except binascii.Error:
                continue
            yield "base64", decoded
            if not (_is_picture(decoded) or decoded[:2] == b"\x1f\x8b") and len(bare) > 4000:
                break


# pictures


def _is_picture(body: bytes) -> bool:
    return body.startswith(_PICTURES) or body[4:8] == b"ftyp"


def _of_picture(body: bytes) -> Iterator[tuple[str, bytes]]:
    """Metadata as a library reads it, compressed texts of a PNG, pictures inside a picture."""
    with (
        contextlib.suppress(Exception),
        warnings.catch_warnings(),
    ):  # what no library reads is searched as it is
        warnings.simplefilter("ignore")
        with Image.open(io.BytesIO(body)) as image:
            said = repr(sorted(image.info.items(), key=lambda item: str(item[0]))).encode(), _exif_of(image)
        yield "metadata", said[0]
        yield "Exif", said[1]
    if body.startswith(b"\x89PNG"):
        yield from _png_texts(body)
    for start in (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"Exif\0\0"):
        at = body.find(start, 1)
        if at > 0:
            yield "a picture in it", body[at + (6 if start.startswith(b"Exif") else 0) :]


def _exif_of(image: Image.Image) -> bytes:
    exif = image.getexif()
    parts = [dict(exif), *(dict(exif.get_ifd(each)) for each in ExifTags.IFD)]
    lines = []
    for part in parts:
        for tag, value in part.items():
            lines.append(f"{tag}: {value!r}")
            if isinstance(value, bytes):
                lines += [value.decode("utf-16-le", "ignore"), value.decode("latin-1")]
            if isinstance(value, tuple) and len(value) == 3:
                lines.append(_degrees(value))
    return "\n".join(lines).encode("utf-8", "replace")


def _degrees(parts: tuple[object, ...]) -> str:
    """Degrees, minutes and seconds as a decimal fraction of a degree."""
    try:
        whole, minutes, seconds = (float(str(part)) for part in parts)
    except ValueError:
        return ""
    return f"{whole + minutes / 60 + seconds / 3600:.6f}"


def _png_texts(body: bytes) -> Iterator[tuple[str, bytes]]:
    at = 8
    while at + 8 <= len(body):
        length = struct.unpack(">I", body[at : at + 4])[0]
        name, content = body[at + 4 : at + 8], body[at + 8 : at + 8 + length]
        at += 12 + length
        if name in (b"zTXt", b"iTXt", b"iCCP"):
            for start in range(len(content)):
                if content[start : start + 2] in _ZLIB:
                    try:
                        yield f"PNG {name.decode()}", zlib.decompressobj().decompress(content[start:])
                    except zlib.error:
                        continue
                    break


def pictures_inside(body: bytes) -> int:
    """How many pictures begin inside a JPEG, behind its own beginning: previews, second frames, what was appended."""
    return body.count(b"\xff\xd8\xff", 1) if body.startswith(b"\xff\xd8\xff") else 0
