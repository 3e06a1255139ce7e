"""An address as a picture that a phone's camera reads off the terminal (QR code, ISO/IEC 18004).

In: a text, and what the terminal can show. Out: lines. The library is imported here and nowhere else.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Sequence
from typing import TextIO

QUIET = 4  # modules of light border (ISO/IEC 18004, 6.3.8)
_BLACK_ON_WHITE, _END = "\x1b[30;107m", "\x1b[0m"
_HALVES = {(0, 0): " ", (1, 0): "▀", (0, 1): "▄", (1, 1): "█"}  # dark above, dark below
_SPACES = ("\x1b[107m  ", "\x1b[40m  ")  # light, dark


def qr_lines(text: str, stream: TextIO) -> list[str]:
    """The lines of the picture; none where the stream is no terminal, or one that cannot show it."""
    if not stream.isatty() or os.environ.get("TERM") == "dumb":
        return []
    modules = _modules(text)
    coloured, blocks = not os.environ.get("NO_COLOR"), _takes(stream, "".join(_HALVES.values()))
    if not coloured and not blocks:
        return []
    lines = list(_half_blocks(modules, coloured=coloured) if blocks else _coloured_spaces(modules))
    width = len(modules) * (1 if blocks else 2)
    room = shutil.get_terminal_size()
    return lines if width < room.columns and len(lines) < room.lines else []


def _modules(text: str) -> list[list[int]]:
    """The picture with its border: 1 is dark."""
    import segno  # noqa: PLC0415 - only where others may look

    # The least correction, and so the smallest picture: it is read off a screen, and not off worn paper.
    code = segno.make_qr(text, error="l", boost_error=False)
    return [[int(dark) for dark in row] for row in code.matrix_iter(border=QUIET)]


def _takes(stream: TextIO, signs: str) -> bool:
    try:
        signs.encode(stream.encoding or "ascii")
    except (UnicodeError, LookupError):
        return False
    return True


def _half_blocks(modules: Sequence[Sequence[int]], *, coloured: bool) -> Iterator[str]:
    """Two rows a line. Without colours, what is light is drawn: most terminals write light on dark."""
    rows = modules if coloured else [[1 - dark for dark in row] for row in modules]
    below_last = [0 if coloured else 1] * len(rows[0])
    for above, below in zip(rows[::2], [*rows[1::2], below_last], strict=False):
        line = "".join(_HALVES[pair] for pair in zip(above, below, strict=True))
        yield f"{_BLACK_ON_WHITE}{line}{_END}" if coloured else line


def _coloured_spaces(modules: Sequence[Sequence[int]]) -> Iterator[str]:
    """A row a line, for terminals that know no signs beyond ASCII."""
    for row in modules:
        yield "".join(_SPACES[dark] for dark in row) + _END
