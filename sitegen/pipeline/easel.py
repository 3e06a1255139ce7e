"""Another process that draws: it gets ready while this one does other things.

In: specifications. Out: scene graphs, as the drawing library gives them. The library takes 0.4 s to begin, and lets
nothing else be done meanwhile. The other process runs this file alone, and imports nothing of the project.
"""

from __future__ import annotations

import contextlib
import json
import sys
from collections.abc import Callable, Iterator
from typing import IO, TYPE_CHECKING, Any

if TYPE_CHECKING:
    from subprocess import Popen

_Draw = Callable[[dict[str, Any]], dict[str, Any]]
_BLANK = {"$schema": "https://vega.github.io/schema/vega/v5.json", "width": 1, "height": 1, "marks": []}
_ASIDE: list[Popen[bytes]] = []  # the process that waits for specifications, where there is one


@contextlib.contextmanager
def drawn_aside() -> Iterator[None]:
    """While another process waits for what is to be drawn; it begins at once."""
    import subprocess  # noqa: PLC0415 - most runs do without

    command = (sys.executable, "-P", __file__)
    pipe, nothing = subprocess.PIPE, subprocess.DEVNULL
    try:
        process = subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=nothing)  # noqa: S603 - our own file
    except OSError:  # then all is drawn here
        yield
        return
    _ASIDE.append(process)
    try:
        yield
    finally:
        _ASIDE.clear()
        process.kill()
        process.communicate()


def drawn_by(here: _Draw) -> _Draw:
    """What draws: the other process, else `here`."""
    return lambda spec: (_from_aside(spec) if _ASIDE else None) or here(spec)


def _from_aside(spec: dict[str, Any]) -> dict[str, Any] | None:
    """The drawing from the other process; None where it gave none, and is not asked again."""
    process = _ASIDE[0]
    assert process.stdin is not None
    assert process.stdout is not None
    try:
        _send(process.stdin, spec)
        graph: dict[str, Any] = json.loads(process.stdout.readline())
    except (OSError, ValueError):
        _ASIDE.clear()
        return None
    return graph


def _send(pipe: IO[bytes], value: object) -> None:
    pipe.write(json.dumps(value).encode() + b"\n")
    pipe.flush()


def _serve() -> None:
    """Draw what is asked for, until nothing more can be."""
    import vl_convert  # noqa: PLC0415 - in the other process only

    vl_convert.vega_to_scenegraph(_BLANK)
    for line in sys.stdin.buffer:
        _send(sys.stdout.buffer, vl_convert.vega_to_scenegraph(json.loads(line), allowed_base_urls=[]))


if __name__ == "__main__":
    _serve()
