"""What steps read is in their traces: no page is stale, in a preview or in an output folder."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from sitegen.ingest import read_journal
from sitegen.memo import Memo
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.build import Build
from sitegen.pipeline.engine.files import Digests, inventory
from sitegen.pipeline.engine.inputs import Inputs, RunMemory
from sitegen.pipeline.engine.snapshot import Settings, theme_of
from sitegen.pipeline.preview import Preview, Previewer
from tests.pipeline.bench import TODAY, Site, leaf, tree

A_LOG = "seasons/one/aa/experiment.yaml"


def three(folder: Path) -> Site:
    """Two runs of one crop, and one of another between them."""
    runs = {
        "aa": leaf("First sown", start="2026-02-01"),
        "bb": leaf("Other crop", "tomato", start="2026-03-01"),
        "cc": leaf("Last sown", start="2026-04-01"),
    }
    return Site.of(folder, runs)


def edit(site: Site, name: str, old: str, new: str) -> None:
    """Change a log."""
    path = site.experiment(name) / "experiment.yaml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def body(shown: Preview, address: str) -> str:
    """The text of a page."""
    found = shown.find(address)
    page = found.page if found is not None else None
    return page.content.decode() if page is not None else ""


@pytest.mark.parametrize("files", [(A_LOG,), ()], ids=["the file that was edited", "everything"])
def test_a_preview_shows_what_a_neighbour_says_now(tmp_path: Path, files: tuple[str, ...]) -> None:
    """The page of a run names the run of its crop before it, and what differed: as the other log has it now."""
    site = three(tmp_path)
    with Memo() as memo:
        looks = Previewer(site.root, TODAY, memo)
        before = body(looks.refresh(), "experiments/cc.html")
        edit(site, "aa", "title: First sown", "title: Sown in February")
        edit(site, "aa", "plants: 2", "plants: 3")
        after = body(looks.refresh(files), "experiments/cc.html")
        anew = body(Previewer(site.root, TODAY, memo).refresh(), "experiments/cc.html")

    assert ("First sown" in before, "Sown in February" in before) == (True, False)
    assert ("First sown" in after, "Sown in February" in after) == (False, True)
    assert "Plants: 2 this time, 3 in the other run." in after
    assert after == anew


def _write_recap(site: Site) -> None:
    (site.experiment("cc") / "recap.md").write_text("See [the other](bb).\n", "utf-8")


@pytest.mark.parametrize(
    ("prepare", "change"),
    [
        (lambda _: None, lambda site: edit(site, "aa", "title: First sown", "title: Renamed")),
        (lambda _: None, lambda site: edit(site, "aa", "plants: 2", "plants: 3")),
        (lambda _: None, lambda site: edit(site, "aa", "start: 2026-02-01", "start: 2026-05-01")),
        (_write_recap, lambda site: (site.experiment("bb")).rename(site.experiment("dd"))),
        (lambda site: edit(site, "cc", "log:", "was: [old]\nlog:"), lambda site: _copy(site, "aa", "old")),
    ],
    ids=["a neighbour's title", "a neighbour's setting", "the order", "a link", "an address that is taken"],
)
def test_pages_are_written_again_because_of_another_run(
    tmp_path: Path, prepare: Callable[[Site], None], change: Callable[[Site], None]
) -> None:
    """Whatever a page says of another run is as the other run has it, and the site is that of a fresh build."""
    site = three(tmp_path)
    prepare(site)
    site.write()
    before = tree(site.output)
    change(site)
    done = site.write(keep_going=True)
    wanted, findings = site.anew(keep_going=True)
    changed = {place for place, content in tree(site.output).items() if before.get(place) != content}

    assert (tree(site.output), done.findings) == (wanted, findings)
    assert changed & {"experiments/cc.html", "experiments/old.html"}


def _copy(site: Site, name: str, to: str) -> None:
    text = (site.experiment(name) / "experiment.yaml").read_text("utf-8")
    site.experiment(to).mkdir()
    (site.experiment(to) / "experiment.yaml").write_text(text.replace("First", "Copied"), "utf-8")


def test_a_note_makes_no_other_page_again(tmp_path: Path) -> None:
    """The trace of a page names only what other pages say on it: a note elsewhere is none of that."""
    site = three(tmp_path)
    site.write()
    edit(site, "aa", "note: as it was", "note: another")
    outcome = site.write().outcome

    assert outcome is not None
    pages = [address for address in outcome.written if address.endswith(".html")]
    assert sorted(pages) == ["experiments/aa.html", "experiments/aa/record.html"]


A_PICK = "  - day: 19\n    harvest: {P1: {weight: 9 g, part: leaf}}\n"
AN_END = "  - day: 30\n    end: {why: slow, plants: cleared}\n"


def add(site: Site, name: str, text: str) -> None:
    """Write more at the end of a log."""
    path = site.experiment(name) / "experiment.yaml"
    path.write_text(path.read_text("utf-8") + text, "utf-8")


def picture(site: Site, name: str) -> None:
    """Add a photo to a run, with a line of its log."""
    folder = site.experiment(name) / "photos"
    folder.mkdir(exist_ok=True)
    Image.new("RGB", (320, 240), (90, 120, 60)).save(folder / "leaf.jpg")
    edit(site, name, "    note:", "    photo: {file: leaf.jpg, alt: Invented}\n    note:")


def recap(site: Site, name: str) -> None:
    """Write a recap."""
    (site.experiment(name) / "recap.md").write_text("All went well.\n", "utf-8")


def head(line: str) -> Callable[[Site], None]:
    """Write a key above the log of the first run."""
    return lambda site: edit(site, "aa", "log:", f"{line}\nlog:")


def entry(text: str) -> Callable[[Site], None]:
    """Write more at the end of the log of the first run."""
    return lambda site: add(site, "aa", text)


EARLY = "  - day: 0\n    sow: 2 a spot\n"


@pytest.mark.parametrize(
    ("change", "made"),
    [
        (lambda site: edit(site, "aa", "note: as it was", "note: another"), ["aa"]),
        (lambda site: recap(site, "aa"), ["aa"]),
        (lambda site: picture(site, "aa"), ["aa"]),
        (head("answer: {verdict: again, why: it was easy}"), ["aa"]),
        (head("revised: 2026-04-02"), ["aa"]),
        (head("was: [older]"), ["aa"]),
        (head("question: Is it enough?"), ["aa"]),
        (lambda site: edit(site, "aa", EARLY, f"{EARLY}  - day: 12\n    height: 4 cm\n"), ["aa"]),
        (lambda site: edit(site, "aa", "variety: first", "variety: second"), ["aa"]),
        (lambda site: edit(site, "aa", "title: First", "title: Once"), ["aa", "bb", "cc", "dd"]),
        (lambda site: edit(site, "aa", "plants: 2", "plants: 3"), ["aa", "cc", "dd"]),
        (
            lambda site: edit(site, "aa", EARLY, f"{EARLY}  - day: 12\n    ec: 1.2 mS/cm\n"),
            ["aa", "cc", "dd"],
        ),
        (lambda site: edit(site, "aa", "start: 2026-02-01", "start: 2026-02-02"), ["aa", "cc", "dd"]),
        (entry("  - day: 24\n    height: 11 cm\n"), ["aa", "cc"]),
        (lambda site: edit(site, "aa", "  - day: 20", f"{A_PICK}  - day: 20"), ["aa", "cc"]),
    ],
    ids=[
        *("note", "recap", "photo", "answer", "revised", "earlier address", "question", "height", "variety"),
        *("title", "plants", "EC", "start", "later look", "pick"),
    ],
)
def test_only_pages_that_show_what_changed_are_made_again(
    tmp_path: Path, change: Callable[[Site], None], made: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page is made again where a run changed what the page shows of it; an outlook only where a run still grows.

    `cc` grows, `dd` has ended; `aa` is an earlier run of their crop, and `bb` of another crop was sown next to it.
    """
    site = three(tmp_path)
    edit(site, "aa", "log:", "variety: first\nlog:")
    edit(
        site, "aa", "height: 9 cm", "height: 8 cm"
    )  # no copy of another log, which would say nothing of its own
    site.experiment("dd").mkdir()
    ended = leaf("Ended", start="2026-03-20") + AN_END
    (site.experiment("dd") / "experiment.yaml").write_text(ended, "utf-8")
    site.write()
    found: list[str] = []
    run_pages = steps.run_pages

    def noted(inputs: Inputs) -> steps.Rendered:
        found.append(inputs.name)
        return run_pages(inputs)

    monkeypatch.setattr(steps, "run_pages", noted)
    change(site)
    done = site.write()
    again = sorted(found)

    assert [finding.message for finding in done.findings if finding.is_error] == []
    assert again == made
    assert (tree(site.output), done.findings) == site.anew()


_OPENED: list[str] = []
_NOTING: list[bool] = []


def _note(event: str, arguments: tuple[object, ...]) -> None:
    if _NOTING and event == "open" and isinstance(arguments[0], str):
        _OPENED.append(arguments[0])


sys.addaudithook(_note)  # cannot be removed: it does nothing but between the lines of `noting`


@contextmanager
def noting() -> Iterator[list[str]]:
    """The names of files that are opened in a block."""
    _OPENED.clear()
    _NOTING.append(True)
    try:
        yield _OPENED
    finally:
        _NOTING.clear()


def _covered(place: str, trace: dict[str, str]) -> bool:
    """Whether a trace names the input that a file of the journal belongs to."""
    parts = place.split("/")
    if parts[0] == "seasons" and len(parts) > 3:
        kind = "recap" if parts[3] == "recap.md" else "records"
        return f"{kind} {parts[2]}" in trace
    return "site" in trace


@pytest.mark.parametrize(
    "step", [steps.check, steps.summary, steps.run_pages], ids=lambda step: step.__name__
)
def test_a_step_opens_no_file_that_its_trace_does_not_name(
    tmp_path: Path, step: Callable[[Inputs], object]
) -> None:
    """Reading past the recorded inputs is seen, whichever stage does it."""
    site = three(tmp_path)
    _write_recap(site)
    photo = site.root / "look" / "templates" / "missing.html"
    photo.parent.mkdir(parents=True)
    photo.write_text("{{ 1 }}", "utf-8")
    journal, _ = read_journal(site.root)
    assert journal is not None
    theme, _ = theme_of(journal)
    with Memo() as memo:
        build = Build(
            Settings(journal, theme), Digests(site.root, inventory(site.root), memo), memo, date(2026, 5, 1)
        )
        build.check()
        build.publish(check.link for check in build.checks.values() if check.link is not None)
        build.summarize()  # the page of a run that grows asks for those of earlier runs
        inputs = Inputs(build.snapshot, "cc", RunMemory())
        with noting() as opened:
            step(inputs)
    inside = {
        Path(name).relative_to(site.root).as_posix()
        for name in opened
        if Path(name).is_relative_to(site.root)
    }

    assert "seasons/one/cc/experiment.yaml" in inside
    assert [place for place in sorted(inside) if not _covered(place, inputs.trace)] == []


def test_the_guard_of_opened_files_can_fail(tmp_path: Path) -> None:
    """A file that another run owns is not covered by the trace of this one."""
    path = tmp_path / "file"
    path.write_text("x", "utf-8")
    with noting() as opened:
        path.read_text("utf-8")

    assert str(path) in opened
    assert not _covered("seasons/one/bb/experiment.yaml", {"records cc": "", "site": ""})


def test_only_listed_kinds_of_input_can_be_read(tmp_path: Path) -> None:
    """A question whose digest nobody can compute is a fault at once, not a page that is never renewed."""
    site = three(tmp_path)
    journal, _ = read_journal(site.root)
    assert journal is not None
    with Memo() as memo:
        build = Build(Settings(journal), Digests(site.root, inventory(site.root), memo), memo, TODAY)
        with pytest.raises(KeyError):
            Inputs(build.snapshot, "aa")._read("weather")
