"""A process that is killed at any step, and the runs after it."""

from __future__ import annotations

import os
import random
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.write import open_output
from sitegen.write.manifest import MANIFEST
from sitegen.write.staging import fingerprint_of
from tests.write.sites import (
    LOCKS,
    everything,
    held,
    let_the_clock_tick,
    output_of,
    page,
    pages,
    site_pages,
    staged_in,
    write,
)

STEPS = ("mkdir", "replace", "rename", "unlink", "rmdir")  # of the module `os`, that all others go through
WRITES = ("write_bytes", "write_text")


class Killed(BaseException):
    """Stands for the end of a process: nothing is tidied up."""


@contextmanager
def killed_before(step: int) -> Iterator[list[str]]:
    """End the block before its n-th change of the disk, or in the middle of it where a file is written."""
    done: list[str] = []

    def patched(name: str, own: Callable[..., Any]) -> Callable[..., Any]:
        def call(path: Path | str, *arguments: Any, **options: Any) -> Any:
            if str(path).endswith(".lock"):  # steps of the library of locks
                return own(path, *arguments, **options)
            done.append(name)
            if len(done) > step:
                if name in WRITES:
                    own(path, arguments[0][: len(arguments[0]) // 2], *arguments[1:], **options)
                raise Killed
            return own(path, *arguments, **options)

        return call

    with pytest.MonkeyPatch.context() as patch:
        for name in STEPS:
            patch.setattr(os, name, patched(name, getattr(os, name)))
        for name in WRITES:
            patch.setattr(Path, name, patched(name, getattr(Path, name)))
        yield done


Site = dict[str, str]
ADDRESSES = ("a.html", "b.css", "c/d.html", "c/e/f.txt", "g/h.html")


def random_site(chance: random.Random) -> Site:
    """Some addresses with texts of one length: only what is in them differs."""
    return {address: chance.choice("123") for address in ADDRESSES if chance.random() < 0.6}


def check_left(folder: Path, *sites: Site) -> None:
    """What a killed process may leave: whole files that the manifest names, and nothing that it says wrongly."""
    output = output_of(folder)
    found = held(folder)
    for address, body in found.items():
        assert body in {site.get(address) for site in sites}, address
        assert address in output.manifest.files
        for text in "123":
            assert text == body or not output.holds([(address, fingerprint_of(text.encode()))])


@pytest.mark.parametrize("clock", ["going on", "set back"])
def test_killed_at_any_step(tmp_path: Path, clock: str) -> None:
    """Wherever a write and the one after it end, files are whole and known, and a third write makes the site."""
    chance, ends = random.Random(4), Counter[str]()  # noqa: S311 - no secret
    for number in range(12):
        old, new, third = (random_site(chance) for _ in range(3))
        for step in range(60):
            site = tmp_path / f"{number}-{step}" / "site"
            site.parent.mkdir()
            if number % 4:  # else a folder that is new
                write(site_pages(old), site)
                let_the_clock_tick(site)
                if clock == "set back":
                    os.utime(site / MANIFEST, ns=(0, time.time_ns() + 10**12))
            with suppress(Killed), killed_before(step) as done:
                write(site_pages(new), site)
            if len(done) <= step:
                ends["whole"] += 1
                break
            ends[done[-1]] += 1
            check_left(site, old, new)
            with suppress(Killed), killed_before(chance.randrange(24)) as again:
                write(site_pages(third), site)
            ends["again " + again[-1]] += 1
            check_left(site, old, new, third)
            write(site_pages(new), site)

            assert held(site) == new
            folders = {parent.as_posix() for address in new for parent in Path(address).parents} - {"."}
            assert set(everything(site)) == {MANIFEST, *new, *folders}
            assert {path.name for path in site.parent.iterdir()} <= {"site", "probe"}
        else:
            pytest.fail("a write of so few files has fewer steps")

    assert ends["whole"] == 12
    assert all(ends[name] and ends[f"again {name}"] for name in (*STEPS, *WRITES)), ends


def killed(*_: object) -> None:
    """End the process here."""
    raise Killed


def test_what_a_killed_process_moved_is_not_known_by_its_old_content(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that one killed write moved, and that the next killed write left alone, is known as it is or not at all."""
    site, first, second = tmp_path / "site", {"a.html": "2"}, {"a.html": "2", "b.html": "1"}
    write(site_pages({"a.html": "3"}), site)
    let_the_clock_tick(site)
    with monkeypatch.context() as at_the_last_manifest, suppress(Killed):
        at_the_last_manifest.setattr("sitegen.write.write_manifest", killed)
        write(site_pages(first), site)
    assert held(site) == first
    replace = Path.replace

    def killed_at_a_page(path: Path, target: Path) -> Path:
        if target.suffix == ".html":
            raise Killed
        return replace(path, target)

    with monkeypatch.context() as at_the_first_move, suppress(Killed):
        at_the_first_move.setattr(Path, "replace", killed_at_a_page)
        write(site_pages(second), site)

    assert "b.html" in output_of(site).manifest.files
    assert held(site) == first
    check_left(site, {"a.html": "3"}, second)


def test_what_a_killed_process_left_is_removed(tmp_path: Path) -> None:
    """Files that wait go before anything else is done; whatever else lies in the folder stays."""
    site = tmp_path / "site"
    write(pages(a="1"), site)
    (site / ".mine.new").write_text("notes", "utf-8")
    staged_in(output_of(site), [page("a.html", "2"), page("new/b.html", "2")])
    with open_output(site, LOCKS) as output:
        assert not isinstance(output, Finding)
        assert everything(site) == [".mine.new", MANIFEST, "a.html"]


def test_a_first_write_that_was_killed_is_removed(tmp_path: Path) -> None:
    """It waited beside its place, and nothing of it stays."""
    staged_in(output_of(tmp_path / "site"), pages(a="1"))
    with open_output(tmp_path / "site", LOCKS):
        assert everything(tmp_path) == []


def test_a_file_that_was_announced_and_never_moved_is_new(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The next write moves it, a listing too, before the pages that name it; a page, before those that stood."""
    site = tmp_path / "site"
    write(site_pages({"a.html": "1"}), site)
    new = {"a.html": "2", "b.html": "2", "feed.xml": "2"}
    moved, replace = list[str](), Path.replace

    def killed_after_the_manifest(path: Path, target: Path) -> Path:
        if target.name != MANIFEST:
            raise Killed
        return replace(path, target)

    with monkeypatch.context() as at_the_first_move, suppress(Killed):
        at_the_first_move.setattr(Path, "replace", killed_after_the_manifest)
        write(site_pages(new), site)
    assert (held(site), "feed.xml" in output_of(site).manifest.files) == ({"a.html": "1"}, True)

    def noted(path: Path, target: Path) -> Path:
        moved.append(target.name)
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", noted)
    write(site_pages(new), site)

    assert moved == ["feed.xml", "b.html", "a.html", MANIFEST]
