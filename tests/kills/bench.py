"""A folder with a journal, its site, a cache and files of somebody else, restored before each kill.

In: a scenario. Out: what is wrong after a kill, and after the command that follows it.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from html.parser import HTMLParser
from pathlib import Path, PurePosixPath
from urllib.parse import unquote, urlsplit

from tests.kills.forked import Done, command, environment_of, forked
from tests.kills.killing import killed_before
from tests.pipeline.bench import tree

TODAY = "2026-05-01"
FOREIGN = "CNAME"  # in the output, and not ours
Files = dict[str, bytes]


@dataclass(frozen=True)
class Scenario:
    """A command that is killed: what stands before, and what is to stand after it.

    `begins` and `changes` make the state before it; `goes` are the command's words with `{}` for the folder. `writes`:
    the site is its result; else files of the journal are, each as before or as after.
    """

    name: str
    begins: Callable[[Path], None]
    goes: tuple[str, ...]
    changes: Callable[[Path], None] = lambda _folder: None
    writes: bool = True
    written_before: bool = True  # the site stands
    cold: bool = False  # the cache is empty
    again: tuple[str, ...] = ()  # the command after the kill, where it is another
    # The command after a kill that came when all was done, where `goes` would do it twice: one that takes it back, or
    # one that leaves it so.
    undo: tuple[str, ...] = ()
    looks: tuple[str, ...] = ()
    group: bool = False  # with worker processes, which are killed too


@dataclass
class Bench:
    """One scenario in a folder."""

    scenario: Scenario
    home: Path
    drawings: Path  # a cache with the drawings of the journal
    before: Files = field(default_factory=dict)
    after: Files = field(default_factory=dict)
    site: Files = field(default_factory=dict)  # of a run that knows nothing

    @property
    def case(self) -> Path:
        """What is restored before each kill."""
        return self.home / "case"

    def made(self) -> Bench:
        """The state before the command, and what the command makes of it without a kill."""
        scenario, case = self.scenario, self.case
        for name in ("tmp", "mine"):
            (case / name).mkdir(parents=True)
        (case / "mine" / "letter.txt").write_text("of somebody else", "utf-8")
        if scenario.writes and not scenario.cold:
            shutil.copytree(self.drawings, case / "store")
        scenario.begins(case)
        if scenario.written_before:
            self.expect(self.run(*scenario.goes), {0})
            (case / "site" / FOREIGN).write_text("example.org", "utf-8")
        scenario.changes(case)
        shutil.copytree(case, self.home / "kept", symlinks=True)
        self.before = self.held()
        self.site = self._anew() if scenario.writes else {}
        self.expect(self.run(*scenario.goes), {0, 1})
        self.after = self.held()
        return self

    def _anew(self) -> Files:
        place = self.home / "anew"
        place.mkdir()
        environment = environment_of(place)
        (place / "tmp").mkdir()
        goes = (word.replace("{}/site", f"{place}/site") for word in self.scenario.goes)
        words = [word.replace("{}", str(self.case)) for word in goes]
        self.expect(forked(lambda: command(*self._whole(words), environment=environment)), {0})
        return tree(place / "site")

    def run(self, *words: str) -> Done:
        """A command that is not killed."""
        done: Done = forked(lambda: self._command(words))
        return done

    def _command(self, words: Sequence[str]) -> Done:
        said = [word.replace("{}", str(self.case)) for word in words]
        return command(*self._whole(said), environment=environment_of(self.case))

    def _whole(self, words: Sequence[str]) -> list[str]:
        """The words of a command with the day, and with one process where it does not say how many."""
        alone = words[0] == "write" and "--jobs" not in words and "--only" not in words
        dated = words[0] != "begin"
        return [*words, *(["--jobs", "1"] if alone else []), *(["--today", TODAY] if dated else [])]

    def expect(self, done: Done, statuses: set[int]) -> None:
        """A command that went as it should."""
        assert done.status in statuses, done

    def restored(self) -> None:
        """The state before the command again."""
        shutil.rmtree(self.case)
        shutil.copytree(self.home / "kept", self.case, symlinks=True)

    def held(self) -> Files:
        """All files that are not the program's own to keep: the journal, the site, and what is somebody else's."""
        found = tree(self.case)
        return {name: body for name, body in found.items() if not name.startswith(("store/", "tmp/"))}

    # kills

    def killed(self, operation: int) -> bool:
        """Kill the command before an operation; False where it had ended by then."""
        work = partial(self._command, self.scenario.goes)
        return killed_before(operation, str(self.case), work, group=self.scenario.group)

    def faults(self) -> Iterator[str]:
        """What is wrong after a kill."""
        now = self.held()
        for name, body in {**self.before, **now}.items():
            if name not in now:
                if self._is_result(name) and name not in self.after:
                    continue
                yield f"{name} is gone"
            elif self._waits(name):
                continue
            elif body not in (self.before.get(name), self.after.get(name)) and name != "site/.sitegen.json":
                yield f"{name} is neither old nor new"
        before, after = (
            {name.removeprefix("site/") for name in files if name.startswith("site/")}
            for files in (self.before, self.after)
        )
        yield from dead_links(self.case / "site", before & after)

    def _is_result(self, name: str) -> bool:
        return name.startswith("site/") if self.scenario.writes else name.startswith("inbox")

    def _waits(self, name: str) -> bool:
        """Whether a file is one that waits for its place."""
        hidden = any(part.startswith(".") for part in PurePosixPath(name).parts)
        return hidden and name not in self.before and name not in self.after

    def faults_after(self) -> Iterator[str]:
        """What is wrong after the next command, which was not killed."""
        wanted, words = self.after, self.scenario.again or self.scenario.goes
        if self.scenario.undo and self.held() == self.after:
            wanted, words = self.before, self.scenario.undo
        if self.scenario.looks and self.held() == self.after:
            words = self.scenario.looks
        done = self.run(*words)
        if done.status not in (0, 1) or "Traceback" in done.printed:
            yield f"the next command: {done}"
        now = self.held()
        for name in sorted(now.keys() | wanted.keys()):
            if now.get(name) != wanted.get(name):
                yield f"{name}: {'left over' if name not in wanted else 'not as it is to be'}"
        if self.scenario.writes:
            made = {name: body for name, body in tree(self.case / "site").items() if name != FOREIGN}
            if made != self.site:
                yield "the site is not that of a run that knows nothing"
        yield from self.left_over()

    def left_over(self) -> Iterator[str]:
        """Files and folders that nobody needs any more."""
        yield from (f"tmp/{path.name}: left over" for path in (self.case / "tmp").iterdir())
        for folder, folders, files in os.walk(self.case):
            for name in (*folders, *files):
                place = Path(folder, name).relative_to(self.case)
                kept = (self.home / "kept" / place).exists()
                if not kept and any(sign in name for sign in (".new", ".staging", ".filing")):
                    yield f"{place}: left over"
        yield from (f"store/files/new/{path.name}: left over" for path in self.case.glob("store/files/new/*"))


class _Links(HTMLParser):
    """The addresses that a page names."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002 - its signature
        for name, value in attrs:
            if value and name in ("href", "src"):
                self.found.append(value)
            elif value and name == "srcset":
                self.found += [part.split()[0] for part in value.split(",") if part.strip()]


def dead_links(site: Path, stay: Collection[str]) -> Iterator[str]:
    """Links of the pages of a site to files that are not there.

    `stay` are pages of the old site and the new one. Other pages may link to each other, those that are new and those
    that go: one of them is there first, or goes last, and no page that stays leads there.
    """
    if not site.is_dir():
        return
    for page in site.rglob("*.html"):
        place = page.relative_to(site)
        if any(part.startswith(".") for part in place.parts):
            continue
        links = _Links()
        links.feed(page.read_text("utf-8"))
        for link in dict.fromkeys(links.found):
            parts = urlsplit(link)
            if parts.scheme or parts.netloc or not parts.path:
                continue
            target = page.parent / unquote(parts.path)
            passing = place.as_posix() not in stay and target.suffix == ".html"
            if not passing and not (target.is_file() or (target / "index.html").is_file()):
                yield f"{place}: a dead link to {link}"
