"""A reader with a fault that only an input found step by step reaches: it shows that a fuzzer works.

In: bytes. Out: a fault where they begin with six certain signs.
"""

from __future__ import annotations

from pathlib import Path

from tests.fuzz.target import Fault, Run, Target


def read_signs(data: bytes) -> int:
    """How many of the signs there are; all of them are a fault. Each is compared on a line of its own."""
    found = 0
    if data[0:1] == b"d":
        found = 1
        if data[1:2] == b"i":
            found = 2
            if data[2:3] == b"b":
                found = 3
                if data[3:4] == b"b":
                    found = 4
                    if data[4:5] == b"e":
                        found = 5
                        if data[5:6] == b"r":
                            raise Fault("the planted fault")
    return found


def _prepare(_folder: Path) -> Run:
    return lambda data: read_signs(data)


PLANTED = Target(
    "planted", _prepare, lambda: (b"------",), ("../tests/fuzz/planted.py",), "tests.fuzz.planted:read_signs", "bytes", (), 16
)
