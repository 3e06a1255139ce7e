"""The parts that a JPEG or WebP file is made of, read without any library for pictures."""

from __future__ import annotations

import struct

__all__ = ["jpeg_segments", "webp_chunks"]

_ALONE = {0xD8, 0xD9, *range(0xD0, 0xD8)}  # ITU-T T.81, table B.1: markers without a length


def jpeg_segments(body: bytes) -> list[tuple[int, bytes]]:
    """Marker and payload of each segment, in order; what follows the end of the image is an error."""
    found: list[tuple[int, bytes]] = []
    at = 0
    while at < len(body):
        assert body[at] == 0xFF, f"no marker at {at}"
        marker = body[at + 1]
        at += 2
        if marker in _ALONE:
            found.append((marker, b""))
            continue
        length = struct.unpack(">H", body[at : at + 2])[0]
        found.append((marker, body[at + 2 : at + length]))
        at += length
        if marker == 0xDA:
            at = _after_scan(body, at)
    return found


def _after_scan(body: bytes, at: int) -> int:
    """The next marker behind entropy-coded data: 0xFF that is neither stuffed nor a restart."""
    while body[at] != 0xFF or body[at + 1] == 0 or 0xD0 <= body[at + 1] <= 0xD7:
        at += 1
    return at


def webp_chunks(body: bytes) -> list[tuple[bytes, bytes]]:
    """Name and payload of each chunk of the RIFF container; its length must be the file's."""
    assert (body[:4], body[8:12]) == (b"RIFF", b"WEBP")
    assert struct.unpack("<I", body[4:8])[0] + 8 == len(body)
    found: list[tuple[bytes, bytes]] = []
    at = 12
    while at < len(body):
        length = struct.unpack("<I", body[at + 4 : at + 8])[0]
        found.append((body[at : at + 4], body[at + 8 : at + 8 + length]))
        at += 8 + length + length % 2
    return found
