"""An inbox: lines about several experiments in one text file, each begun with a day or a date → visits.

In: the bytes of the file, the experiments of the journal. Out: `Inbox`: its visits, and the lines that are none. A name
may stand before or after the day, or on a line of its own above; so may a day. Lines without a day belong to the visit
above, unless an empty line parts them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from textwrap import dedent

from sitegen.core.format.entry import ENTRY_TABLE
from sitegen.filing.inbox.run_names import KnownRun, is_named, runs_named
from sitegen.filing.inbox.transaction import Piece
from sitegen.filing.written_days import WrittenDay, day_at

_BULLET = re.compile(r"^\s*(?:[-*•]\s+)?")
_AFTER_DAY = re.compile(r"\s*(?P<sign>[:,;.–—-]?)\s*")
_NAMED = re.compile(r"(?P<name>[^:]{1,60}?)\s*:(?:\s+|$)")
_HEADING = re.compile(r"(?:#+\s*(?P<marked>[^:]{1,80}?)|(?P<name>[^:]{1,80}?))\s*+(?::\s*+)?")
_WORD = re.compile(r"[^\W\d_][\w-]*")
_GAP = re.compile(r"[\s,;:]+")
_KEY = re.compile(r"(?P<key>[a-z_]+)\s*:(?:\s|$)")
_PAIR = re.compile(r"[^\s:]+:\s+\S.*")
_NESTED = re.compile(r"(?<=: )(?:\{[^\"'#{}]*\}|\[[^\"'#\[\]]*\])$")
_SIGNS = re.compile(r"[,\[\]{}#\"'|>&*!%@`]")  # that would mean something else in braces
_FURTHEST = 80  # characters; a name before a day is no longer
_KEYS = frozenset(ENTRY_TABLE.keys)
_TODAY = ("today", "heute")


@dataclass(frozen=True, slots=True)
class Visit:
    """What an inbox says of one visit: `name` is the experiment as written, empty where the line names none.

    `lines` are its own, `headings` those above that it takes its name or its day from; all count from 0.
    """

    lines: tuple[int, ...]
    day: WrittenDay
    name: str
    text: str
    headings: tuple[int, ...] = ()

    @property
    def number(self) -> int:
        """The number of its first line, from 1."""
        return self.lines[0] + 1


@dataclass(frozen=True, slots=True)
class Inbox:
    """The lines of an inbox, the visits among them, and the numbers of lines that belong to none (from 0)."""

    lines: tuple[bytes, ...]
    visits: tuple[Visit, ...]
    loose: tuple[int, ...] = ()

    def pieces(self, places: Mapping[int, str]) -> tuple[Piece, ...]:
        """The inbox in pieces, where some visits (by their place in `visits`) go to a file each.

        A heading goes with the last of the visits below it.
        """
        below: dict[int, list[str]] = {}
        for number, each in enumerate(self.visits):
            for heading in each.headings:
                below.setdefault(heading, []).append(places.get(number, ""))
        owner = {n: tuple(dict.fromkeys(found)) if all(found) else () for n, found in below.items()}
        begun = {each.lines[0]: number for number, each in enumerate(self.visits)}
        pieces: list[Piece] = []
        at = 0
        while at < len(self.lines):
            visit = begun.get(at)
            stop = at + (1 if visit is None else len(self.visits[visit].lines))
            place = places.get(visit, "") if visit is not None else ""
            goes_to = (place,) if place else owner.get(at, ())
            pieces.append(Piece(b"".join(self.lines[at:stop]), goes_to))
            at = stop
        return tuple(pieces)


def read_inbox(content: bytes, runs: Sequence[KnownRun], today: date | None = None) -> Inbox:
    """The visits of an inbox."""
    lines = tuple(content.splitlines(keepends=True))
    reader = _Reader(runs, today)
    for number, line in enumerate(lines):
        reader.read(number, line.decode("utf-8-sig" if number == 0 else "utf-8", "surrogateescape").rstrip())
    reader.close()
    used = {heading for visit in reader.visits for heading in visit.headings}
    loose = sorted({*reader.loose, *(number for number in reader.bare if number not in used)})
    return Inbox(lines, tuple(reader.visits), tuple(loose))


@dataclass(slots=True)
class _Open:
    """A visit whose lines are still being read."""

    visit: Visit
    below: list[str] = field(default_factory=list)

    def closed(self) -> Visit:
        """The visit with all of its text."""
        text = "\n".join([self.visit.text, dedent("\n".join(self.below))]).strip("\n").rstrip()
        return replace(self.visit, text=text)


@dataclass(slots=True)
class _Reader:
    """Reads line after line."""

    runs: Sequence[KnownRun]
    today: date | None = None
    visits: list[Visit] = field(default_factory=list)
    loose: list[int] = field(default_factory=list)
    bare: list[int] = field(default_factory=list)  # lines that hold nothing but a day
    _open: _Open | None = None
    _run: tuple[int, str] | None = None  # the line of a heading, and the name on it
    _day: tuple[int, WrittenDay] | None = None
    _parted: bool = False  # by an empty line from the visit above

    def read(self, number: int, text: str) -> None:
        """Read one line."""
        body = _BULLET.sub("", text, count=1)
        if not body:
            self._parted = True
            self._keep(number, "")
        elif begun := _begun(body, self.runs, self.today):
            self._begin(number, *begun)
        elif name := _heading(body, self.runs):
            self.close()
            self._run, self._day = (number, name), None
        elif self._day is not None and (named := _named(body, self.runs)):
            self._begin(number, named[0], self._day[1], named[1])
        elif body.startswith("#"):
            self.close()
        elif self._open is not None and (text[0] in " \t" or not self._parted):
            self._keep(number, text)
            self._parted = False
        else:
            self.close()
            self.loose.append(number)

    def _keep(self, number: int, text: str) -> None:
        if self._open is not None:
            self._open.visit = replace(self._open.visit, lines=(*self._open.visit.lines, number))
            self._open.below.append(text)

    def _begin(self, number: int, name: str, day: WrittenDay, text: str) -> None:
        under = self._day
        self.close()
        self._parted = False
        headings = [self._run[0]] if self._run is not None and not name else []
        if under is not None and (day is under[1] or (day.relative and day.word in _TODAY)):
            self._day, day = under, under[1]
            headings.append(under[0])
        elif not name and not text and not day.message:
            self._day = (number, day)
        name = name or (self._run[1] if self._run is not None else "")
        self._open = _Open(Visit((number,), day, name, text, tuple(headings)))

    def close(self) -> None:
        """End the visit that is open; one that holds nothing but a day is the heading of those that follow."""
        if self._open is None:
            return
        visit = self._open.closed()
        self._open = None
        if self._day is not None and visit.number - 1 == self._day[0] and not visit.text:
            self.bare.append(self._day[0])
            return
        self.visits.append(visit)
        if self._day is not None and visit.number - 1 == self._day[0]:
            self._day = None


def _begun(body: str, runs: Sequence[KnownRun], today: date | None) -> tuple[str, WrittenDay, str] | None:
    """The name, the day and the rest of a line that begins a visit."""
    day = day_at(body, today=today)
    if day is not None:
        return _after_day(body, day, runs)
    for gap in _GAP.finditer(body, 0, _FURTHEST):
        day = day_at(body, gap.end(), today)
        if day is None:
            continue
        name = body[: gap.start()]
        after = _AFTER_DAY.match(body, day.end)
        assert after is not None
        if runs_named(name, runs) or (_WORD.fullmatch(name) and after["sign"] == ":" and name not in _KEYS):
            return name, day, body[after.end() :]
        return None
    return None


def _after_day(body: str, day: WrittenDay, runs: Sequence[KnownRun]) -> tuple[str, WrittenDay, str]:
    """The name that may stand behind a day, and the rest."""
    after = _AFTER_DAY.match(body, day.end)
    assert after is not None
    rest = body[after.end() :]
    named = _NAMED.match(rest)
    if named is None or named["name"] in _KEYS:
        return "", day, rest
    name = named["name"]
    told = after["sign"] == ":"
    is_run = is_named(name, runs) if told else bool(runs_named(name, runs) or _WORD.fullmatch(name))
    return (name, day, rest[named.end() :]) if is_run else ("", day, rest)


def _heading(body: str, runs: Sequence[KnownRun]) -> str:
    """The name of an experiment that stands alone on a line."""
    match = _HEADING.fullmatch(body)
    if match is None or not (body.endswith(":") or match["marked"]):
        return ""
    name = match["marked"] or match["name"]
    return name if name not in _KEYS and runs_named(name, runs) else ""


def _named(body: str, runs: Sequence[KnownRun]) -> tuple[str, str] | None:
    """A name of an experiment at the beginning of a line, and the rest."""
    match = _NAMED.match(body)
    if match is None or match["name"] in _KEYS or not runs_named(match["name"], runs):
        return None
    return match["name"], body[match.end() :]


def texts_of(text: str) -> list[str]:
    """The texts of a visit: each key of an entry with what stands below it, and the words between them together."""
    texts: list[str] = []
    keyed = False
    for line in text.split("\n"):
        key = _KEY.match(line)
        if key is not None and key["key"] in _KEYS:
            texts.append(line)
        elif texts and (not keyed or line.startswith((" ", "\t", "- "))):
            texts[-1] += f"\n{line}"
            continue
        else:
            texts.append(line)
        keyed = key is not None and key["key"] in _KEYS
    return [_on_one_line(each) for each in texts if each.strip()]


def _on_one_line(text: str) -> str:
    """Words in a row; a mapping or a list below a key in braces or brackets; what cannot be that, as it is."""
    head, _, below = text.partition("\n")
    lines = [line.strip() for line in below.split("\n") if line.strip()]
    if not _KEY.fullmatch(head.strip()):
        return text if head.rstrip().endswith(("|", ">")) else " ".join([head.strip(), *lines])
    if not lines or any(_SIGNS.search(_NESTED.sub("", line)) for line in lines):
        return text
    if all(line.startswith("- ") for line in lines):
        return f"{head.strip()} [{', '.join(line[2:].strip() for line in lines)}]"
    if (
        all(_PAIR.fullmatch(line) for line in lines)
        and len({_indent(each) for each in below.split("\n")}) == 1
    ):
        return f"{head.strip()} {{{', '.join(lines)}}}"
    return text


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


def first_loose(inbox: Inbox) -> Iterator[int]:
    """The number (from 0) of the first of each stretch of lines that belong to no visit."""
    yield from (number for number in inbox.loose if number - 1 not in inbox.loose)
