"""A reader with a fault that only an input found step by step reaches: it shows that a fuzzer works.

In: words. Out: a fault where the first four are certain ones.
"""

from __future__ import annotations

from pathlib import Path

from tests.fuzz.target import FaultError, Run, Target

_WORDS = tuple(b" " + word for word in b"sow thin feed pick note rest".split())


def read_words(data: bytes) -> int:
    """How many of the words stand in order; all of them are a fault. Each is compared on a line of its own."""
    _, *words = [*data.split(b" "), b"", b"", b"", b""]
    found = 0
    if words[0] == b"pick":
        found = 1
        if words[1] == b"sow":
            found = 2
            if words[2] == b"thin":
                found = 3
                if words[3] == b"feed":
                    raise FaultError("the planted fault")
    return found


def _prepare(_folder: Path) -> Run:
    return read_words


PLANTED = Target(
    "planted",
    _prepare,
    lambda: (b" rest",),
    ("../tests/fuzz/planted.py",),
    "tests.fuzz.planted:read_words",
    "text",
    _WORDS,
    64,
)
