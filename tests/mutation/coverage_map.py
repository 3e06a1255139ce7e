"""Which tests execute which lines, and how long each takes without a change.

In: a unit of the package (a folder or a module) and its tests. Out: `CoverageMap`. It is made once for a state of the
package and of the tests, and kept in the user's cache folder.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from functools import cached_property
from hashlib import blake2b
from pathlib import Path

import pytest
from coverage import Coverage
from platformdirs import user_cache_path

from tests.mutation.forked import Tests


@dataclass(frozen=True)
class Unit:
    """A folder or a module of a package, by its path below it."""

    root: Path
    package: str
    name: str

    @property
    def sources(self) -> list[Path]:
        """Its source files."""
        path = self.root / self.package / self.name
        return sorted(path.rglob("*.py")) if path.is_dir() else [path]

    @property
    def tests(self) -> Path:
        """The folder or file with its tests."""
        if self.name.endswith(".py"):
            return self.root / "tests" / Path(self.name).with_name(f"test_{Path(self.name).name}")
        return self.root / "tests" / self.name

    @property
    def test_files(self) -> list[str]:
        """Its tests' files, by their paths from the root."""
        files = sorted(self.tests.rglob("test_*.py")) if self.tests.is_dir() else [self.tests]
        return [path.relative_to(self.root).as_posix() for path in files]

    def module(self, file: str) -> str:
        """The name by which a source file is imported."""
        return file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")

    @cached_property
    def kept(self) -> Path:
        """Where its map is kept: named by the content of the package and of the tests."""
        digest = blake2b(f"{sys.version} {self.root} {self.name}\n".encode(), digest_size=16)
        tests = self.tests.rglob("*") if self.tests.is_dir() else [self.tests]
        shared = (self.root / "tests").glob("*.py")
        for path in sorted({*(self.root / self.package).rglob("*.py"), *tests, *shared}):
            if path.is_file() and path.suffix != ".pyc":
                digest.update(f"{path}\n".encode() + path.read_bytes())
        folder = user_cache_path("sitegen-mutation", appauthor=False, ensure_exists=True)
        return folder / f"{digest.hexdigest()}.json"


@dataclass(frozen=True)
class CoverageMap:
    """The tests of a unit with their times [s], the tests that execute each line of a file, and imported libraries."""

    times: dict[str, float]
    lines: dict[str, dict[str, list[str]]]
    libraries: list[str]

    @classmethod
    def load(cls, path: Path) -> CoverageMap:
        """A map that was kept."""
        return cls(**json.loads(path.read_text("utf-8")))

    @property
    def seconds(self) -> float:
        """How long all tests take."""
        return sum(self.times.values())

    def quickest_first(self) -> list[str]:
        """All tests."""
        return sorted(self.times, key=lambda name: (self.times[name], name))

    def order(self, file: str, lines: range) -> list[str]:
        """The tests that execute one of the lines, the quickest first; where none does, all, those of the file first.

        Lines run on import, or in processes that tests start, are no test's own. A test that is left out because its
        part was done by another before makes a survivor of a mutant, never the reverse.
        """
        executed = self.lines.get(file, {})
        near = {name for line in lines for name in executed.get(str(line), ())}
        far = {name for names in executed.values() for name in names}
        names = [name for name in self.quickest_first() if name in near or not near]
        return sorted(names, key=lambda name: name not in far)


class Recorder:
    """A plugin of pytest that records a map."""

    def __init__(self, unit: Unit) -> None:
        self._unit = unit
        self._coverage = Coverage(
            data_file=None, config_file=False, include=[str(unit.root / unit.package / "*")]
        )
        self._times: dict[str, float] = {}
        self._libraries: list[str] = []

    def record(self, path: Path, scratch: Path) -> int:
        """Run the tests, and write the map where they pass."""
        self._coverage.start()
        status = Tests(self._unit.root, self._unit.test_files, plugins=[self]).run(scratch)
        self._coverage.stop()
        if status == 0:
            found = CoverageMap(self._times, self._lines(), self._libraries)
            path.write_text(json.dumps(asdict(found)), "utf-8")
        return status

    def pytest_collection_finish(self) -> None:
        """Note the libraries that the tests import."""
        own = [str(self._unit.root / self._unit.package), str(self._unit.root / "tests")]
        self._libraries = sorted(name for name, module in sys.modules.items() if _library(module, own))

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        """Note the lines and the time of each test."""
        self._coverage.switch_context(item.nodeid)
        begun = time.perf_counter()
        try:
            return (yield)
        finally:
            self._times[item.nodeid] = time.perf_counter() - begun
            self._coverage.switch_context("")

    def _lines(self) -> dict[str, dict[str, list[str]]]:
        data = self._coverage.get_data()
        found = {}
        for path in map(Path, data.measured_files()):
            lines = data.contexts_by_lineno(str(path))
            file = path.relative_to(self._unit.root).as_posix()
            found[file] = {str(line): [test for test in tests if test] for line, tests in lines.items()}
        return found


def _library(module: object, own: Sequence[str]) -> bool:
    file, spec = getattr(module, "__file__", None), getattr(module, "__spec__", None)
    return (
        file is not None and spec is not None and not any(Path(file).is_relative_to(folder) for folder in own)
    )
