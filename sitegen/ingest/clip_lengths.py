"""Lengths of clips' files by ffprobe, where that is installed: a convenience, never needed.

In: the folders that a clip may lie in, the names of files. Out: seconds by name, of those that could be read. A file that
is not there, a program that fails or takes long: the length is not known.
"""

from __future__ import annotations

import math
import shutil
import subprocess
from collections.abc import Iterable, Sequence
from pathlib import Path

LONGEST_WAIT = 5.0  # seconds a file
_ASKED = ("-v", "error", "-protocol_whitelist", "file", "-show_entries", "format=duration", "-of", "csv=p=0")


def clip_lengths(folders: Sequence[Path], names: Iterable[str]) -> dict[str, int]:
    """The whole seconds of each file that lies in one of the folders."""
    program = shutil.which("ffprobe")
    if program is None:
        return {}
    places = {name: _place(folders, name) for name in dict.fromkeys(names)}
    lengths = {name: _length(program, path) for name, path in places.items() if path is not None}
    return {name: length for name, length in lengths.items() if length is not None}


def _place(folders: Sequence[Path], name: str) -> Path | None:
    """The file of a name in the first folder that has it; a name that leads out of a folder has none."""
    for folder in folders:
        try:
            path = (folder / name).resolve()
            if path.is_relative_to(folder.resolve()) and path.is_file():
                return path
        except (OSError, ValueError, RuntimeError):
            continue  # no name of a file on this system, or a link that leads to itself
    return None


def _length(program: str, path: Path) -> int | None:
    try:
        done = subprocess.run(  # noqa: S603 - the program is that of the PATH, the file an absolute path
            [program, *_ASKED, str(path)],
            capture_output=True,
            text=True,
            timeout=LONGEST_WAIT,
            stdin=subprocess.DEVNULL,
            check=True,
        )
        seconds = float(done.stdout)
    except (OSError, ValueError, subprocess.SubprocessError):
        return None
    return int(seconds) if math.isfinite(seconds) and seconds > 0 else None
