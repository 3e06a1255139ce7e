"""Serves one module from a changed source, in every interpreter that has this folder on its path.

In: the environment variable `MUTANT`, the path of a JSON file with `module`, `file` and `source`. Out: an importer that
comes before all others. The interpreter imports this module by its name at the start, so that processes that a test
starts have the change too, and no file of the checkout is touched.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Sequence
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from pathlib import Path
from types import CodeType, ModuleType


class _Loader(SourceFileLoader):
    def __init__(self, name: str, path: str, source: str) -> None:
        super().__init__(name, path)
        self._source = source

    def get_code(self, fullname: str) -> CodeType:  # noqa: ARG002 - one module only
        return compile(self._source, self.path, "exec", dont_inherit=True)


class _Finder:
    """A finder of one module."""

    def __init__(self, module: str, file: str, source: str) -> None:
        self._module, self._file, self._source = module, file, source

    def find_spec(
        self, name: str, _path: Sequence[str] | None = None, _target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """The specification of the changed module; None for all others."""
        if name != self._module:
            return None
        return spec_from_file_location(name, self._file, loader=_Loader(name, self._file, self._source))


def install() -> None:
    """Put the changed module, if there is one, before all others."""
    if mutant := os.environ.get("MUTANT"):
        sys.meta_path.insert(0, _Finder(**json.loads(Path(mutant).read_text("utf-8"))))


install()
