"""One filing of an inbox: every log and the inbox change together, though a kill may come between any two of them.

In: an inbox, the logs that its lines go to. Out: the changed files. What is to be done is written beside the inbox
first (`Intent`); whoever finds such a file finishes it. A file that somebody changed meanwhile is not touched: its lines
stay in the inbox, unless the file holds them already.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from pathlib import Path, PurePosixPath
from typing import Any

from sitegen.core.files.encodings import as_utf8, encoded_as
from sitegen.filing.safe_file import remove_unfinished, replace_file

FORMAT = 1
LONGEST_NAME = 255  # bytes of a file's name, on the usual file systems
DEEPEST = 8  # folders and a name: a log lies in a season and an experiment


@dataclass(frozen=True, slots=True)
class FileChange:
    """A log before and after; `place` is relative to the journal's folder."""

    place: str
    before: bytes
    after: bytes

    def is_in(self, content: bytes) -> bool:
        """Whether a file that was changed since holds every line that is new in it."""
        new = Counter(self.after.splitlines()) - Counter(self.before.splitlines())
        wanted, there = Counter(self.after.splitlines()), Counter(content.splitlines())
        return all(there[line] >= wanted[line] for line in new)


@dataclass(frozen=True, slots=True)
class Piece:
    """Whole lines of the inbox; they leave it when all files of `places` hold them, and stay where there is none."""

    text: bytes
    places: tuple[str, ...] = ()

    def goes(self, filed: Collection[str]) -> bool:
        """Whether it leaves the inbox, where some files hold what goes to them."""
        return bool(self.places) and set(self.places) <= set(filed)


@dataclass(frozen=True, slots=True)
class Intent:
    """What one filing is to do; `root` is the journal's folder. The inbox is UTF-8 here, whatever its file is."""

    root: str
    changes: tuple[FileChange, ...]
    pieces: tuple[Piece, ...]

    @property
    def before(self) -> bytes:
        """The inbox as it was read."""
        return b"".join(piece.text for piece in self.pieces)

    @property
    def after(self) -> bytes:
        """The inbox without what is filed."""
        return b"".join(piece.text for piece in self.pieces if not piece.places)

    def encoded(self) -> bytes:
        """The intent as JSON; bytes that are no UTF-8 come back as they were."""
        data = {
            "format": FORMAT,
            "about": "a filing that was not finished: `sitegen log --from` finishes it",
            "root": self.root,
            "files": [
                {"place": each.place, "before": _text(each.before), "after": _text(each.after)}
                for each in self.changes
            ],
            "inbox": [{"text": _text(piece.text), "places": list(piece.places)} for piece in self.pieces],
        }
        return json.dumps(data, indent=1).encode("ascii")

    @classmethod
    def decoded(cls, content: bytes) -> Intent:
        """The intent of a file.

        Raises
        ------
        UnreadableIntentError
            Where the file is damaged, or of another version.

        """
        try:
            data: dict[str, Any] = json.loads(content)
            if data["format"] != FORMAT:
                raise UnreadableIntentError
            changes = [
                FileChange(_inside(each["place"]), _bytes(each["before"]), _bytes(each["after"]))
                for each in data["files"]
            ]
            pieces = [
                Piece(_bytes(each["text"]), tuple(map(_inside, each["places"]))) for each in data["inbox"]
            ]
            return cls(str(data["root"]), tuple(changes), tuple(pieces))
        except (ValueError, KeyError, TypeError, RecursionError) as error:
            raise UnreadableIntentError from error


class UnreadableIntentError(Exception):
    """An intent that is damaged, or of another version of the program."""


def _inside(place: str) -> str:
    """A place that is inside of the journal: an intent may come with a folder that somebody else made."""
    path = PurePosixPath(place)
    if path.is_absolute() or ".." in path.parts or any(sign in place for sign in "\\:\0"):
        raise UnreadableIntentError
    # A name that no file can have is an error too.
    names = [part.encode("utf-8", "surrogateescape") for part in path.parts]
    if any(len(name) > LONGEST_NAME for name in names) or len(names) > DEEPEST:
        raise UnreadableIntentError
    return place


def _text(content: bytes) -> str:
    return content.decode("utf-8", "surrogateescape")


def _bytes(text: str) -> bytes:
    return text.encode("utf-8", "surrogateescape")


@dataclass(frozen=True, slots=True)
class Doubt:
    """What the author is to look at: a log or the inbox was changed while a filing was not finished.

    With `place`, that log does not hold the lines, which stay in the inbox from `line` on; `why` it could not be written,
    or empty where somebody changed it. Without one, the inbox was changed from `line` on, and `filed` are lines that logs
    hold already.
    """

    line: int
    place: str = ""
    why: str = ""
    filed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Finished:
    """What became of a filing: the places of the logs that hold its lines now, and doubts."""

    filed: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()


def intent_path(inbox: Path) -> Path:
    """Where the intent of an inbox lies: beside it, hidden."""
    inbox = inbox.resolve()
    return inbox.with_name(f".{inbox.name}.filing")


def pending(inbox: Path) -> Intent | None:
    """The intent of a filing that was not finished; None where there is none."""
    try:
        return Intent.decoded(intent_path(inbox).read_bytes())
    except FileNotFoundError:
        return None


def file_all(intent: Intent, inbox: Path, root: Path) -> Finished:
    """Write down what is to be done, and do it."""
    replace_file(intent_path(inbox), intent.encoded())
    return finish(intent, inbox, root)


def finish(intent: Intent, inbox: Path, root: Path) -> Finished:
    """Do what is left of a filing that was written down; what somebody changed since is left alone."""
    for path in (inbox, intent_path(inbox), *(root / change.place for change in intent.changes)):
        remove_unfinished(path)
    files = {change.place: _content(root / change.place) for change in intent.changes}
    there = _content(inbox) or b""
    settled, finished = settle(intent, files, as_utf8(there))
    if settled != intent:  # a kill from here on is one of this smaller filing
        replace_file(intent_path(inbox), settled.encoded())
    refused: dict[str, str] = {}
    for change in settled.changes:
        try:
            if change.before != change.after:
                replace_file(root / change.place, change.after)
        except OSError as error:
            refused[change.place] = error.strerror or str(error)
    if refused:
        settled, finished = _without(settled, finished, refused)
        replace_file(intent_path(inbox), settled.encoded())
    if settled.after != settled.before:
        replace_file(inbox, encoded_as(settled.after, there))
    intent_path(inbox).unlink()
    return finished


def settle(intent: Intent, files: Mapping[str, bytes | None], inbox: bytes) -> tuple[Intent, Finished]:
    """What is left to do of a filing, by what the files hold now.

    The inbox is replaced last: once it is, all is done. While it is as it was, the filing goes on. Where the author has
    changed it, logs that are as before stay so, and only lines that logs hold already leave it.
    """
    places = tuple(change.place for change in intent.changes)
    if inbox == intent.after:
        return Intent(intent.root, (), (Piece(inbox),)), Finished(places)
    whole = inbox == intent.before
    changes: list[FileChange] = []
    changed: list[str] = []
    for each in intent.changes:
        now = files[each.place]
        if now is not None and (now == each.after or (now != each.before and each.is_in(now))):
            # Filed, and to be known as such after another kill.
            changes.append(FileChange(each.place, now, now))
        elif now == each.before and whole:
            changes.append(each)
        elif now != each.before:
            changed.append(each.place)
    filed = {each.place for each in changes}
    if whole:
        pieces = tuple(p if p.goes(filed) else replace(p, places=()) for p in intent.pieces)
        doubts = tuple(Doubt(_line_of(place, intent.pieces, filed), place) for place in changed)
    else:
        pieces, doubts = _in_changed_inbox(intent.pieces, filed, inbox)
    in_order = tuple(place for place in places if place in filed)
    return Intent(intent.root, tuple(changes), pieces), Finished(in_order, doubts)


def _without(intent: Intent, finished: Finished, refused: Mapping[str, str]) -> tuple[Intent, Finished]:
    """The rest of a filing, and what became of it, where some logs could not be written."""
    filed = tuple(place for place in finished.filed if place not in refused)
    doubts = [Doubt(_line_of(place, intent.pieces, filed), place, why) for place, why in refused.items()]
    changes = tuple(change for change in intent.changes if change.place not in refused)
    pieces = tuple(p if p.goes(filed) else replace(p, places=()) for p in intent.pieces)
    return Intent(intent.root, changes, pieces), Finished(filed, (*finished.doubts, *doubts))


def _line_of(place: str, pieces: Sequence[Piece], filed: Collection[str]) -> int:
    """The line of the new inbox on which the first piece for a place will stand."""
    line = 1
    for piece in pieces:
        if place in piece.places:
            break
        if not piece.goes(filed):
            line += len(piece.text.splitlines())
    return line


def _in_changed_inbox(
    pieces: Sequence[Piece], filed: Collection[str], inbox: bytes
) -> tuple[tuple[Piece, ...], tuple[Doubt, ...]]:
    """The lines of an inbox that the author has changed, less those that are filed and still stand there."""
    before = [(line, piece) for piece in pieces for line in piece.text.splitlines()]
    now = inbox.splitlines(keepends=True)
    same = _same_lines([line for line, _ in before], [line.rstrip(b"\r\n") for line in now])
    left: dict[int, tuple[str, ...]] = {}
    missed: list[bytes] = []
    at = 0
    for piece in pieces:
        numbers = range(at, at + len(piece.text.splitlines()))
        at = numbers.stop
        if not piece.goes(filed):
            continue
        if all(number in same for number in numbers):
            left |= {same[number]: piece.places for number in numbers}
        else:
            missed.append(piece.text)
    rest = tuple(Piece(line, left.get(number, ())) for number, line in enumerate(now))
    new = sorted(set(range(len(now))) - set(same.values()))
    if not missed or not new:
        return rest, ()
    line = new[0] + 1 - sum(number < new[0] for number in left)
    return rest, (Doubt(line, filed=tuple(_text(text).strip() for text in missed)),)


def _same_lines(before: Sequence[bytes], now: Sequence[bytes]) -> dict[int, int]:
    """The number of each line that still stands there, by its number before."""
    blocks = SequenceMatcher(None, before, now, autojunk=False).get_matching_blocks()
    return {block.a + n: block.b + n for block in blocks for n in range(block.size)}


def _content(path: Path) -> bytes | None:
    """The bytes of a file; None where it is gone."""
    with suppress(FileNotFoundError, NotADirectoryError):
        return path.read_bytes()
    return None
