"""Runs that find nothing changed."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sitegen.pipeline.engine.files import SETTLED
from tests.pipeline.bench import TODAY, Site, leaf, tree

HEAVY = {
    *("yaml", "jinja2", "babel", "pandas", "altair", "pint", "PIL", "vl_convert", "numpy"),
    *("markdown_it", "filelock", "importlib.metadata", "sitegen.ingest", "sitegen.render", "sitegen.measure"),
}
SCRIPT = """
import sys
from sitegen.app.main import status_of
status = status_of(sys.argv[1:])
print(" ".join(sys.modules))
sys.exit(status)
"""


def start(folder: Path) -> Site:
    """Two experiments, one with something odd in it."""
    return Site.of(folder, {"one": leaf("One"), "two": leaf("Two").replace("day: 20", "day: 40")})


def run(site: Site, *arguments: str) -> tuple[set[str], str, int]:
    """A command in a process of its own: what it imported, what it said without the time, how it ended."""
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, *arguments, "--today", str(TODAY)],
        env=os.environ | {"SITEGEN_CACHE": str(site.store)},
        capture_output=True,
        text=True,
        check=False,
    )
    *printed, modules = done.stdout.splitlines()
    said = "\n".join([*printed, done.stderr])
    return set(modules.split()), said, done.returncode


def settle() -> None:
    """Let the clock of the file system tick: a file as new as the look at it is not trusted."""
    time.sleep(2 * SETTLED / 1e9)


@pytest.mark.parametrize("form", [(), ("--line",), ("--json",)], ids=["text", "line", "json"])
def test_validate_says_the_same_and_imports_nothing(tmp_path: Path, form: tuple[str, ...]) -> None:
    """The second time the same is said in the same words, and no library was loaded."""
    site = start(tmp_path)
    settle()
    _, first, status = run(site, "validate", str(site.root), *form)
    modules, second, again = run(site, "validate", str(site.root), *form)

    assert (second, again) == (first, status)
    assert "two/experiment.yaml" in first
    assert modules & HEAVY == set()


def test_write_says_the_same_and_imports_nothing(tmp_path: Path) -> None:
    """Warnings were told before, every file counts as unchanged, and none was touched."""
    site = start(tmp_path)
    settle()
    arguments = ("write", str(site.root), "-o", str(site.output))
    _, first, _ = run(site, *arguments)
    before = {path: path.stat().st_ctime_ns for path in site.output.rglob("*")}
    modules, second, status = run(site, *arguments)

    assert status == 0
    assert first.startswith("warning[long-gap]: ")
    assert second.splitlines()[:-1] == ["1 warning told before: sitegen validate"]
    files = len([path for path in site.output.rglob("[!.]*") if path.is_file()])
    assert f"0 files written, {files} unchanged, 0 removed" in second
    assert {path: path.stat().st_ctime_ns for path in site.output.rglob("*")} == before
    assert modules & HEAVY == set()


def test_every_kind_of_change_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file, a new empty season, a page that is gone, another day: each is looked into."""
    site = start(tmp_path)
    looked: list[str] = []
    from sitegen.pipeline.publishing import publication as module

    original = module.published
    monkeypatch.setattr(module, "published", lambda *given: looked.append("") or original(*given))

    def looks(change: object = None) -> bool:
        settle()
        site.write()
        looked.clear()
        if callable(change):
            change()
        site.write()
        return bool(looked)

    page = site.output / "compare.html"
    assert not looks()
    assert looks(lambda: (site.root / "about.md").write_text("# About\n", "utf-8"))
    assert looks((site.root / "seasons" / "empty").mkdir)
    (site.root / "seasons" / "empty").rmdir()
    assert looks(page.unlink)
    assert page.is_file()
    assert looks(lambda: (site.output / "stray.txt").write_text("mine", "utf-8"))
    assert looks((site.output / ".sitegen.json").touch)


def test_another_program_is_another_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A changed file of the program or of a theme makes everything be looked at again."""
    site = start(tmp_path)
    settle()
    site.write()
    before = tree(site.output)
    monkeypatch.setattr("sitegen.pipeline.engine.unchanged.program_digest", lambda: "another")
    looked: list[str] = []
    from sitegen.pipeline.publishing import publication as module

    original = module.published
    monkeypatch.setattr(module, "published", lambda *given: looked.append("") or original(*given))
    site.write()

    assert (looked, tree(site.output)) == ([""], before)
