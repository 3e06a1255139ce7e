"""The search of published bytes sees a word wherever it lies: one leak for each way in which it could."""

from __future__ import annotations

import base64
import gzip
import io
import json
import zipfile
import zlib
from pathlib import Path
from urllib.parse import quote

import pytest
from PIL import Image, PngImagePlugin

from tests.canaries import pictures
from tests.canaries.marks import Canary, Planted, mark_of
from tests.canaries.walk import pictures_inside, seen_in, sightings
from tests.photos.pictures import picture

MARK = mark_of("a leak")
CANARY = Canary("leak", "a leak", (MARK,))
RAW = MARK.encode()


def zipped(name: str, body: bytes) -> bytes:
    """An archive with one member."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(zipfile.ZipInfo(name, (2005, 3, 18, 1, 58, 30)), body)
    return file.getvalue()


def png(text: str = "", *, packed: bool = False, long: bool = False) -> bytes:
    """A PNG with a text: plain or compressed, in Latin-1 or in UTF-8."""
    texts = PngImagePlugin.PngInfo()
    (texts.add_itxt if long else texts.add_text)("Note", text, zip=packed)
    file = io.BytesIO()
    picture().save(file, "PNG", pnginfo=texts)
    return file.getvalue()


def jpeg(**said: bytes) -> bytes:
    """A JPEG with a comment and Exif."""
    file = io.BytesIO()
    picture().save(file, "JPEG", **said)
    return file.getvalue()


def exif(**tags: bytes) -> bytes:
    """Exif with the author of a system of our days, in two bytes a letter."""
    made = Image.Exif()
    for tag, value in tags.items():
        made[int(tag.removeprefix("tag_"), 16)] = value
    return made.tobytes()


SCRIPT = f"a = '{''.join(f'&#x{ord(sign):x};' for sign in MARK)}'"
LEAKS = {
    "as it is": b"<p>" + RAW + b"</p>",
    "in capitals": RAW.upper(),
    "gzip": gzip.compress(RAW),
    "zlib": zlib.compress(RAW),
    "member of an archive": zipped("a.txt", RAW),
    "name in an archive": zipped(f"{MARK}.txt", b"a"),
    "archive in gzip": gzip.compress(zipped("a.txt", RAW)),
    "base64": b"data:text/plain;base64," + base64.b64encode(b"a word, " + RAW),
    "base64 for addresses": b"?q=" + base64.urlsafe_b64encode(b"\xff\xfe\xfd" + RAW + b"\xff\xfb"),
    "base64 behind a word": b"abc" + base64.b64encode(RAW + b" and more of it"),
    "gzip in base64": base64.b64encode(gzip.compress(RAW)),
    "percent signs": "".join(f"%{byte:02X}" for byte in RAW).encode(),
    "percent signs in an address": quote(f"/{MARK[:3]}ä/").encode() + RAW,
    "entities": "".join(f"&#{byte};" for byte in RAW).encode(),
    "entities in hexadecimal": SCRIPT.encode(),
    "escapes of JSON": json.dumps({"a": "x"})
    .replace("x", "".join(f"\\u{byte:04x}" for byte in RAW))
    .encode(),
    "escapes of a script": "".join(f"\\x{byte:02x}" for byte in RAW).encode(),
    "UTF-16, little end first": MARK.encode("utf-16-le"),
    "UTF-16, big end first, behind an odd byte": b"a" + MARK.encode("utf-16-be"),
    "text of a PNG": png(MARK),
    "compressed text of a PNG": png(MARK, packed=True),
    "compressed long text of a PNG": png(MARK, packed=True, long=True),
    "comment of a JPEG": jpeg(comment=RAW),
    "Exif": jpeg(exif=exif(tag_010e=RAW)),
    "Exif in two bytes a letter": jpeg(exif=exif(tag_9c9d=MARK.encode("utf-16-le"))),
    "behind the end of a JPEG": jpeg() + RAW,
    "archive behind the end of a JPEG": jpeg() + zipped("a.txt", RAW),
    "picture behind the end of a JPEG": jpeg() + jpeg(exif=exif(tag_9c9d=MARK.encode("utf-16-le"))),
    "picture in a page": b'<img src="data:image/png;base64,'
    + base64.b64encode(png(MARK, packed=True))
    + b'">',
}


@pytest.mark.parametrize("way", LEAKS)
def test_every_way(way: str) -> None:
    """A word is seen."""
    assert [each.canary for each in seen_in(LEAKS[way], [CANARY])] == [CANARY]


def test_names_of_files(tmp_path: Path) -> None:
    """The name of a file and of a folder is seen."""
    place = tmp_path / MARK / f"{MARK}.txt"
    place.parent.mkdir()
    place.write_bytes(b"")

    assert [(each.file, each.view) for each in sightings(tmp_path, [CANARY])] == [
        (MARK, "name"),
        (f"{MARK}/{MARK}.txt", "name"),
    ]


@pytest.mark.parametrize(
    ("form", "body"),
    [
        ("2005-03-18", b"<lastmod>2005-03-18T01:58:31Z</lastmod>"),
        ("1111111111", b'{"changed": 1111111111.0}'),
        ("2005, 3, 18", zipped("a.txt", b"a")),
    ],
)
def test_times_of_change(form: str, body: bytes) -> None:
    """A time of change is seen in a text, as a number, and in the head of an archive."""
    canary = Canary("time", form, (form,))

    assert [each.canary for each in seen_in(body, [canary])] == [canary]


@pytest.mark.parametrize("make", [pictures.jpeg, pictures.png, pictures.webp])
def test_every_place_in_a_picture(make: object) -> None:
    """All that is planted in a picture is seen in it, its place and its time of day too."""
    planted = Planted()
    pictures.hide_place_and_time(planted)
    body = make(planted, "one")  # type: ignore[operator]

    assert {each.canary for each in seen_in(body, planted.canaries)} == set(planted.canaries)


def test_pictures_inside() -> None:
    """A picture in a picture is counted."""
    assert [pictures_inside(body) for body in (jpeg(), jpeg() + jpeg(), pictures.jpeg(Planted(), "one"))] == [
        0,
        1,
        3,
    ]


def test_nothing_is_seen_where_nothing_is() -> None:
    """Content without the word shows none."""
    clean = [
        b"",
        b"plain",
        png("a", packed=True),
        jpeg(comment=b"b"),
        zipped("a", b"b"),
        b"\x1f\x8bbroken",
        b"PK\x05\x06",
    ]

    assert [seen_in(body, [CANARY]) for body in clean] == [[]] * len(clean)
