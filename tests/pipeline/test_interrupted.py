"""Runs that end in the middle, meet one another, or find a damaged store."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sitegen.core.files.file_names import MANIFEST
from sitegen.write import Output
from sitegen.write.manifest import STAGING
from tests.pipeline.bench import TODAY, Site, leaf, tree, visible


def start(folder: Path) -> Site:
    """Three experiments, written once."""
    site = Site.of(folder, {name: leaf(name.title()) for name in ("one", "two", "three")})
    site.write()
    return site


def change(site: Site) -> None:
    """Something on every page."""
    path = site.root / "journal.yaml"
    path.write_text(path.read_text("utf-8").replace("Test bench", "Other bench"), "utf-8")


def command(site: Site) -> subprocess.Popen[bytes]:
    """`sitegen write` in a process of its own."""
    arguments = ["-m", "sitegen", "write", str(site.root), "-o", str(site.output), "--today", str(TODAY)]
    environment = os.environ | {"SITEGEN_CACHE": str(site.store)}
    return subprocess.Popen([sys.executable, *arguments], env=environment, stderr=subprocess.PIPE)


class Killed(BaseException):
    """Stands for the end of a process: nothing is tidied up."""


@pytest.mark.parametrize("moves", [0, 1, 4, 9])
def test_killed_while_files_are_moved(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, moves: int) -> None:
    """Wherever it ends, every file is whole, and the next run writes the whole site."""
    site = start(tmp_path)
    before = visible(site.output)
    change(site)
    left, replace = [moves], Path.replace

    def move(path: Path, target: Path) -> Path:
        if STAGING in path.parts and MANIFEST not in path.name:
            left[0] -= 1
            if left[0] < 0:
                raise Killed
        return replace(path, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", move)
        patch.setattr(Output, "discard", lambda _: None)
        with pytest.raises(Killed):
            site.write()
    wanted, _ = site.anew()
    for place, body in visible(site.output).items():
        assert body in (before.get(place), wanted.get(place)), place
    site.write()

    assert tree(site.output) == wanted


def test_killed_while_pages_are_made(tmp_path: Path) -> None:
    """Nothing that can be seen has changed, and the next run leaves no file beside its place."""
    site = start(tmp_path)
    before = visible(site.output)
    change(site)
    with command(site) as process:
        while process.poll() is None and not (site.output / STAGING).exists():
            time.sleep(0.002)
        process.send_signal(signal.SIGKILL)
    after, wanted = visible(site.output), site.anew()[0]
    site.write()

    assert all(after[place] in (body, wanted[place]) for place, body in before.items())
    assert tree(site.output) == wanted


def test_two_at_once(tmp_path: Path) -> None:
    """Both end well, and the site is whole."""
    site = start(tmp_path)
    change(site)
    both = [command(site), command(site)]
    ends = [(process.communicate()[1], process.returncode) for process in both]

    assert [code for _, code in ends] == [0, 0], ends
    assert tree(site.output) == site.anew()[0]


def test_a_damaged_store_costs_time_only(tmp_path: Path) -> None:
    """What cannot be read from the store is made again."""
    site = start(tmp_path)
    change(site)
    (database,) = site.store.glob("*.sqlite")
    database.write_bytes(b"\0" * 8192)
    done = site.write()
    wanted, findings = site.anew()

    assert (tree(site.output), done.findings) == (wanted, findings)


def test_an_output_that_someone_changed_is_mended(tmp_path: Path) -> None:
    """A file edited, one deleted, one of the same size: each is as it should be after the next change."""
    site = start(tmp_path)
    pages = sorted((site.output / "experiments").glob("*.html"))
    pages[0].write_text("mine now", "utf-8")
    pages[1].unlink()
    pages[2].write_bytes(pages[2].read_bytes()[::-1])
    (site.root / "about.md").write_text("# About\n\nNew.\n", "utf-8")
    site.write()

    assert tree(site.output) == site.anew()[0]


def test_an_interrupt_while_pages_are_made_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-C comes when some pages wait beside their places: the output is as it was, to the byte."""
    site = start(tmp_path)
    before = tree(site.output)
    change(site)

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sitegen.pipeline.engine.steps.rendered_index", interrupted)
    with pytest.raises(KeyboardInterrupt):
        site.write()

    assert tree(site.output) == before


def test_a_template_that_cannot_be_filled_leaves_nothing_behind(tmp_path: Path) -> None:
    """Pages made before the error was known are not moved, and do not stay beside their places."""
    site = start(tmp_path)
    before = tree(site.output)
    template = site.root / "look" / "templates" / "experiment.html"
    template.parent.mkdir(parents=True)
    template.write_text("{{ unheard_of }}", "utf-8")
    done = site.write()

    assert {finding.code for finding in done.findings if finding.is_error} == {"bad-template"}
    assert (done.outcome, tree(site.output)) == (None, before)


def test_a_theme_that_is_not_there_keeps_everything_back(tmp_path: Path) -> None:
    """The finding names it; the folder that would have been written to is told, and not touched."""
    site = start(tmp_path)
    before = tree(site.output)
    site.edit("journal.yaml", "title:", "theme: unheard-of\ntitle:")
    done = site.write()

    assert [finding.code for finding in done.findings if finding.is_error] == ["unknown-theme"]
    assert (done.folder, done.outcome, tree(site.output)) == (site.output, None, before)


def test_a_template_that_would_run_a_command_is_refused(tmp_path: Path) -> None:
    """A journal's template runs confined: the finding has its line, and nothing has happened."""
    site = start(tmp_path)
    template = site.root / "look" / "templates" / "experiment.html"
    template.parent.mkdir(parents=True)
    mark = tmp_path / "was-here"
    template.write_text(f"<p>\n{{{{ cycler.__init__.__globals__.os.mkdir('{mark}') }}}}", "utf-8")
    done = site.write()

    (found,) = {finding for finding in done.findings if finding.is_error}
    assert (found.code, str(found.source)) == ("bad-template", "look/templates/experiment.html:2")
    assert not mark.exists()
