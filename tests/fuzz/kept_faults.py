"""Faults that were found: saved, made smaller, and told apart.

In: inputs with the exceptions that they raised. Out: files with the smallest input of each fault, and how to run it.
"""

from __future__ import annotations

import re
import time
import traceback
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from tests.fuzz.guard import LARGEST, guarded
from tests.fuzz.target import Run

_ROOT = Path(__file__).parents[2]
_SECONDS = 20.0  # for making one input smaller


@dataclass(frozen=True, slots=True)
class Saved:
    """A fault: its kind and message, where it arose, its input, whether it came again without measuring coverage."""

    kind: str
    place: str
    message: str
    path: str
    size: int
    sure: bool


def signature(error: BaseException) -> tuple[str, str]:
    """What tells two faults apart: kind, and the last line of ours that it passed; its words for what must hold."""
    frames = traceback.extract_tb(error.__traceback__)
    ours = [
        f"{Path(frame.filename).relative_to(_ROOT)}:{frame.lineno}"
        for frame in frames
        if _is_ours(frame.filename)
    ]
    kind = type(error).__name__
    if kind == "FaultError":
        return kind, re.sub(r"[0-9]+|['\"`<].*", "", str(error))[:60]
    return kind, ours[-1] if ours else ""


def _is_ours(file: str) -> bool:
    return file.startswith((f"{_ROOT}/sitegen", f"{_ROOT}/tests/fuzz/targets"))


def save(folder: Path, data: bytes, error: BaseException) -> Path | None:
    """The input of a fault that is new, in a file; None where one like it was saved."""
    digest = sha256("|".join(signature(error)).encode()).hexdigest()[:10]
    path = folder / f"{type(error).__name__}-{digest}"
    if path.exists():
        return None
    folder.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    path.with_suffix(".txt").write_text("".join(traceback.format_exception(error))[-6000:], "utf-8")
    return path


def settled(path: Path, run: Run, folder: Path) -> Saved:
    """A saved fault, run again and made as small as 20 s allow."""
    data = path.read_bytes()
    error = _raised(run, data, folder)
    told = path.with_suffix(".txt").read_text("utf-8").strip().splitlines()[-1]
    if error is None:
        return Saved(path.name.partition("-")[0], "", told, str(path), len(data), sure=False)
    small = _smaller(data, signature(error), run, folder)
    path.write_bytes(small)
    kind, place = signature(error)
    again = _raised(run, small, folder) or error
    path.with_suffix(".txt").write_text("".join(traceback.format_exception(again))[-6000:], "utf-8")
    return Saved(kind, place, str(again)[:300], str(path), len(small), sure=True)


def _raised(run: Run, data: bytes, folder: Path) -> Exception | None:
    try:
        guarded(run, data, folder, again=True, largest=LARGEST)
    except Exception as error:
        return error
    return None


def _smaller(data: bytes, wanted: tuple[str, str], run: Run, folder: Path) -> bytes:
    """The smallest input with the same fault that leaving out pieces finds: halves, quarters, down to single bytes."""
    end = time.monotonic() + _SECONDS
    size = max(1, len(data) // 2)
    while size and time.monotonic() < end:
        at, shrunk = 0, False
        while at < len(data) and time.monotonic() < end:
            less = data[:at] + data[at + size :]
            error = _raised(run, less, folder)
            if error is not None and signature(error) == wanted:
                data, shrunk = less, True
            else:
                at += size
        if not shrunk or size > 1:
            size //= 2
    return data
