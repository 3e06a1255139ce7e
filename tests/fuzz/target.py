"""What is fuzzed: a reader of something that others wrote, and what must hold for any input.

In: nothing. Out: `Target`, `FaultError`, `Place`, and `sections` of an input that stands for several files.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

Run = Callable[[bytes], object]
_MARK = re.compile(rb"^=== (?P<name>[^\r\n]{1,80})\r?\n", re.MULTILINE)


class FaultError(AssertionError):
    """Something that must hold for any input does not hold for this one."""


def hold(condition: object, message: str) -> None:
    """Raise a fault unless a condition holds."""
    if not condition:
        raise FaultError(message)


@dataclass(frozen=True, slots=True)
class Target:
    """A reader.

    `prepare` is given a folder of its own, and gives the function that reads one input there; what that returns must be
    the same when the same input is read again, and what it raises is a fault. `seeds` are inputs to begin with. `modules`
    are the folders and files, relative to sitegen/, whose lines are counted. `deep` is a function on the way, as
    `module:name`: where it is broken on purpose, the target must notice. `kind` chooses the mutations.
    """

    name: str
    prepare: Callable[[Path], Run]
    seeds: Callable[[], Iterable[bytes]]
    modules: tuple[str, ...]
    deep: str
    kind: str = "text"
    tokens: tuple[bytes, ...] = ()
    longest: int = 4096  # bytes of an input that is made

    @property
    def packages(self) -> tuple[str, ...]:
        """The names of the modules."""
        places = (posixpath.normpath(f"sitegen/{module}").removesuffix(".py") for module in self.modules)
        return tuple(place.replace("/", ".") for place in places)


def sections(data: bytes) -> dict[str, bytes]:
    """The files of an input: each begins with a line `=== NAME`; what stands before the first is called ``."""
    marks = list(_MARK.finditer(data))
    found = {"": data[: marks[0].start()] if marks else data}
    for mark, end in zip(marks, [*(each.start() for each in marks[1:]), len(data)], strict=False):
        found[mark["name"].decode("utf-8", "replace").strip()] = data[mark.end() : end]
    return found


def joined(files: Iterable[tuple[str, bytes]]) -> bytes:
    """The input that stands for some files."""
    return b"".join(
        b"=== %s\n%s%s" % (name.encode(), body, b"" if body.endswith(b"\n") else b"\n")
        for name, body in files
    )
