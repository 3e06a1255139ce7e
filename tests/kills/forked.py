"""Commands of sitegen in processes of their own, without the time that imports take.

In: arguments. Out: the exit status and what was printed. A process that has drawn a chart cannot be copied: `warm_up`
imports and compiles all that a command needs, and draws nothing.
"""

from __future__ import annotations

import contextlib
import io
import os
import pickle
import sys
import tempfile
import traceback
from collections.abc import Callable, Mapping
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

from jinja2 import Environment

from sitegen.app.main import status_of


class Done(NamedTuple):
    """The outcome of a command."""

    status: int
    printed: str


def command(*arguments: str, environment: Mapping[str, str]) -> Done:
    """Run a command here; for a process that ends afterwards."""
    os.environ.update(environment)
    tempfile.tempdir = None
    printed = io.StringIO()
    with contextlib.redirect_stderr(printed), contextlib.redirect_stdout(printed):
        status = status_of(list(arguments))
    return Done(status, printed.getvalue())


def forked(work: Callable[[], Any]) -> Any:
    """What work gives in a process of its own."""
    there, here = os.pipe()
    pid = os.fork()
    if pid == 0:
        os.close(there)
        try:
            result: Any = work()
        except BaseException:
            result = RuntimeError(traceback.format_exc())
        with os.fdopen(here, "wb") as pipe:
            pickle.dump(result, pipe)
        os._exit(0)
    os.close(here)
    with os.fdopen(there, "rb") as pipe:
        result = pickle.load(pipe)  # noqa: S301 - of our own process
    os.waitpid(pid, 0)
    if isinstance(result, Exception):
        raise result
    return result


def warm_up(first: Callable[[], object], again: Callable[[], object]) -> None:
    """Import what work needs, and compile its templates; `again` is the work once more, all drawings known."""

    def modules() -> list[str]:
        first()
        return list(sys.modules)

    for name in forked(modules):
        with contextlib.suppress(Exception):
            import_module(name)
    _compile_once()
    again()


def _compile_once() -> None:
    known: dict[tuple[object, ...], Any] = {}
    original = Environment.compile

    def compiled(environment: Environment, *template: Any) -> Any:
        key = (type(environment), *template)
        if key not in known:
            known[key] = original(environment, *template)
        return known[key]

    Environment.compile = compiled  # type: ignore[method-assign, assignment]


def environment_of(folder: Path) -> dict[str, str]:
    """A cache and a folder of temporary files inside of a folder."""
    return {"SITEGEN_CACHE": str(folder / "store"), "TMPDIR": str(folder / "tmp")}
