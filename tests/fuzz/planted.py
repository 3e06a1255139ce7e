"""A reader with a fault that only an input found step by step reaches: it shows that a fuzzer works.

In: bytes. Out: a fault where they begin with eight certain signs.
"""

from __future__ import annotations

from pathlib import Path

from sitegen.core.language.text import plural
from tests.fuzz.target import Fault, Run, Target

SECRET = b"dibble 7"


def read_signs(data: bytes) -> int:
    """How many of the signs there are; all of them are a fault. Each is compared on a line of its own."""
    found = 0
    if data[0:1] == SECRET[0:1]:
        found = 1
        if data[1:2] == SECRET[1:2]:
            found = 2
            if data[2:3] == SECRET[2:3]:
                found = 3
                if data[3:4] == SECRET[3:4]:
                    found = 4
                    if data[4:6] == SECRET[4:6]:
                        found = 5
                        if data[6:8] == SECRET[6:8]:
                            raise Fault("the planted fault")
    return found


def _prepare(_folder: Path) -> Run:
    return lambda data: plural(read_signs(data), "sign")


PLANTED = Target("planted", _prepare, lambda: (b"--------",), ("core/language/text.py",), "tests.fuzz.planted:read_signs", "bytes", longest=16)
