"""Entries that can be taken back: what was put into a file, kept in the user's cache folder.

In: a file of the journal, the changes made to it. Out: the newest change that the file still ends with, and the content
without it. The folder may be deleted at any time: then nothing can be taken back.
"""

from __future__ import annotations

import json
from base64 import b64decode, b64encode
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any, NamedTuple

from sitegen.filing.entries.append import Change
from sitegen.filing.safe_file import replace_file

FORMAT = 1
MOST = 20  # changes of a file


class _Kept(NamedTuple):
    """A change, and the digest of what stands behind it in the file."""

    removed: bytes
    inserted: bytes
    behind: int
    digest: str

    def stands_in(self, content: bytes) -> bool:
        """Whether a file still ends with what was put in, and what stood behind it."""
        start = len(content) - self.behind - len(self.inserted)
        tail = content[len(content) - self.behind :]
        return (
            self.behind >= 0
            and start >= 0
            and content[start : start + len(self.inserted)] == self.inserted
            and (_digest(tail) == self.digest)
        )

    def without(self, content: bytes) -> bytes:
        """The content before the change."""
        start = len(content) - self.behind - len(self.inserted)
        return content[:start] + self.removed + content[len(content) - self.behind :]


class TakenBack(NamedTuple):
    """The content of a file without its newest entry, and the text of that entry."""

    content: bytes
    entry: str


def _digest(content: bytes) -> str:
    return sha256(content).hexdigest()


def _place(cache: Path, path: Path) -> Path:
    return cache / "entries" / f"{_digest(str(path.resolve()).encode('utf-8', 'surrogatepass'))[:24]}.json"


def keep(cache: Path, path: Path, content: bytes, change: Change) -> bool:
    """Keep a change that is about to be made to a file; `content` is what the file holds before.

    False where the cache cannot be written to: the change is made all the same, and cannot be taken back.

    Kept first and made then: a process that is killed in between leaves a change that stands in no file, which is passed
    over.
    """
    tail = content[change.offset + len(change.removed) :]
    row = {
        "removed": b64encode(change.removed).decode(),
        "inserted": b64encode(change.inserted).decode(),
        "behind": len(tail),
        "digest": _digest(tail),
    }
    place = _place(cache, path)
    rows = [*_rows(place), row][-MOST:]
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        replace_file(place, json.dumps({"format": FORMAT, "changes": rows}).encode())
    except OSError:
        return False
    return True


def take_back(cache: Path, path: Path, content: bytes) -> TakenBack | None:
    """The file without the newest entry that it still ends with; None where there is none.

    Only the newest that was written is looked for, beside those that were kept and never written.
    """
    for kept in reversed(list(_kept(_place(cache, path)))):
        if kept.stands_in(content):
            return TakenBack(kept.without(content), kept.inserted.decode("utf-8", "replace"))
    return None


def known(cache: Path, path: Path) -> bool:
    """Whether anything was ever written to a file."""
    return bool(_rows(_place(cache, path)))


def _kept(place: Path) -> Iterator[_Kept]:
    for row in _rows(place):
        try:
            yield _Kept(
                b64decode(row["removed"]), b64decode(row["inserted"]), int(row["behind"]), str(row["digest"])
            )
        except (KeyError, TypeError, ValueError, OverflowError):
            continue


def _rows(place: Path) -> list[dict[str, Any]]:
    try:
        data = json.loads(place.read_bytes())
    except (OSError, ValueError, RecursionError):
        return []
    if (
        not isinstance(data, dict)
        or data.get("format") != FORMAT
        or not isinstance(data.get("changes"), list)
    ):
        return []
    return [row for row in data["changes"] if isinstance(row, dict)]
