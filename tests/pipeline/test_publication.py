"""What comes of writing a site: what is kept back, what is left out, what is counted."""

from __future__ import annotations

import errno
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen import memo as memo_module
from sitegen.cache_folder import cache_folder
from sitegen.ingest import read_journal
from sitegen.pipeline.engine.files import Inventory, inventory
from sitegen.pipeline.publishing import publication as module
from sitegen.pipeline.publishing.publication import ChangedMeanwhileError, at_one_moment, output_folder
from sitegen.pipeline.results import Published
from tests.photos.pictures import jpeg, picture
from tests.pipeline.bench import Site, leaf, tree

ONE = "seasons/one/one/experiment.yaml"


def start(folder: Path) -> Site:
    """A run with a photo, another, and a draft."""
    runs = {
        "one": leaf("First", start="2026-03-02"),
        "two": leaf("Second", "tomato", start="2026-03-01"),
        "draft": leaf("Drafted", more="draft: true\n"),
    }
    site = Site.of(folder, runs)
    (site.experiment("one") / "photos").mkdir()
    (site.experiment("one") / "photos" / "day-20.jpg").write_bytes(jpeg(picture((640, 480))))
    return site


def test_what_is_counted(tmp_path: Path) -> None:
    """Charts and photos of new pages; after an edit of one run, its own; with nothing changed, none."""
    site = start(tmp_path)
    first = site.write()
    site.edit(ONE, "as it was", "as it is")
    second = site.write()
    third = site.write()

    assert [(each.charts, each.photos) for each in (first, second, third)] == [(2, 1), (1, 1), (0, 0)]
    assert [each.left_out for each in (first, second, third)] == [()] * 3
    assert first.folder == site.output
    assert third.outcome is not None
    assert third.outcome.unchanged == len(tree(site.output)) - 1  # but for the manifest


def test_an_error_keeps_everything_back_unless_the_others_are_to_be_written(tmp_path: Path) -> None:
    """Then the run is left out by its name, and its error told all the same."""
    site = start(tmp_path)
    site.edit(ONE, "9 cm", "9 parsecs")
    back = site.write()
    nothing = site.output.exists()
    going = site.write(keep_going=True)

    assert (back.outcome, back.left_out, nothing) == (None, (), False)
    assert going.outcome is not None
    assert going.left_out == ("one",)
    assert [each.code for each in back.findings] == [each.code for each in going.findings] == ["unknown-unit"]
    assert "experiments/two.html" in tree(site.output)
    assert "experiments/one.html" not in tree(site.output)


@pytest.mark.parametrize("name", ["experiment.html", "home.html"])
def test_a_template_that_fails_writes_nothing(tmp_path: Path, name: str) -> None:
    """Of a run or of a list; with the others, they are written, and it is told once."""
    site = start(tmp_path)
    own = site.root / "look" / "templates" / name
    own.parent.mkdir(parents=True)
    own.write_text("{{ unheard_of }}", "utf-8")
    back = site.write()
    files = tree(site.output) if site.output.exists() else {}
    going = site.write(keep_going=True)

    assert (back.outcome, files) == (None, {})
    assert going.outcome is not None
    assert [each.code for each in back.findings] == [each.code for each in going.findings] == ["bad-template"]


def test_a_draft_whose_template_fails_keeps_the_site_back(tmp_path: Path) -> None:
    """It has no page yet, and is looked at as if it had."""
    site = start(tmp_path)
    own = site.root / "look" / "templates" / "experiment.html"
    own.parent.mkdir(parents=True)
    own.write_text("{{ {'one': 1, 'two': 1}[facts.id] }}", "utf-8")
    done = site.write()

    assert (done.outcome, [each.code for each in done.findings]) == (None, ["bad-template"])


def test_a_file_of_someone_elses_in_the_way(tmp_path: Path) -> None:
    """It stays, nothing else is written, and it is told with what was found in the journal."""
    site = start(tmp_path)
    site.write()
    site.edit(ONE, "day: 20", "day: 40")
    (site.output / "seasons" / "two.html").mkdir()
    (site.output / "seasons" / "two.html" / "mine.txt").write_text("mine", "utf-8")
    (site.root / "seasons" / "two" / "three").mkdir(parents=True)
    (site.root / "seasons" / "two" / "season.yaml").write_text("title: Season two\n", "utf-8")
    (site.root / "seasons/two/three/experiment.yaml").write_text(leaf("Third"), "utf-8")
    before = tree(site.output)
    done = site.write()

    assert done.outcome is None
    assert "long-gap" in {each.code for each in done.findings}
    assert any(each.is_error for each in done.findings)
    assert tree(site.output) == before


def test_a_journal_or_a_theme_that_is_not_there(tmp_path: Path) -> None:
    """The findings say so; of a journal that cannot be read, the folder is its own."""
    site = start(tmp_path)
    site.edit("journal.yaml", "title:", "theme: none\ntitle:")
    site.edit(ONE, "day: 20", "day: 40")
    unthemed = site.write()
    (site.root / "journal.yaml").write_text("title: [", "utf-8")
    unread = site.write()

    assert [each.code for each in unthemed.findings] == ["unknown-theme", "long-gap"]
    assert (unthemed.folder, unthemed.outcome) == (site.output, None)
    assert unread == Published(unread.findings, site.root)
    assert [each.source.file for each in unread.findings] == ["journal.yaml"]


def test_where_a_site_goes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where it is said, else where the journal says, else into a folder of the journal."""
    site = start(tmp_path)
    files, _ = read_journal(site.root)
    assert files is not None
    named = replace(files, journal=replace(files.journal, output="../public"))
    monkeypatch.chdir(tmp_path)

    assert output_folder(files, None) == site.root / "output"
    assert output_folder(named, None) == tmp_path / "public"
    assert output_folder(named, Path("here")) == tmp_path / "here"


def counted(*errors: BaseException | None) -> tuple[list[Inventory], Callable[[Inventory], str]]:
    """Work that fails so often, and what it was given."""
    given: list[Inventory] = []

    def work(files: Inventory) -> str:
        given.append(files)
        error = errors[len(given) - 1]
        if error is not None:
            raise error
        return "done"

    return given, work


def test_work_is_done_again_on_files_that_changed(tmp_path: Path) -> None:
    """Each time with the files as they are then; an error of ours among them was of the change."""
    (tmp_path / "a").write_text("x", "utf-8")
    old = Inventory({}, 0)
    given, work = counted(ChangedMeanwhileError(), RuntimeError("odd"), None)
    with pytest.raises(RuntimeError, match="odd"):  # nothing has changed since the second look
        at_one_moment(tmp_path, old, work)
    assert [each.stamps == old.stamps for each in given] == [True, False]

    given, work = counted(RuntimeError("odd"), None)
    assert at_one_moment(tmp_path, old, work) == "done"
    assert given[1].digest == inventory(tmp_path).digest


def test_work_is_given_up_after_some_tries(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The error names the folder, and says that it may be tried again."""
    assert module.TRIES == 5  # an editor saves a file at a time; common practice, no source
    monkeypatch.setattr(module, "TRIES", 3)
    given, work = counted(*[ChangedMeanwhileError() for _ in range(4)])
    with pytest.raises(OSError, match="its files change while they are read") as caught:
        at_one_moment(tmp_path, inventory(tmp_path), work)

    assert (len(given), caught.value.errno, caught.value.filename) == (3, errno.EAGAIN, str(tmp_path))


def test_a_result_that_is_gone_from_the_cache_is_made_again(tmp_path: Path) -> None:
    """A file of the journal that is gone though nothing has changed is a fault of ours."""
    (tmp_path / "a").write_text("x", "utf-8")
    files = inventory(tmp_path)
    given, work = counted(FileNotFoundError(2, "gone", str(cache_folder() / "photo")), None)
    assert (at_one_moment(tmp_path, files, work), len(given)) == ("done", 2)

    _, work = counted(FileNotFoundError(2, "gone", str(tmp_path / "b")), None)
    with pytest.raises(FileNotFoundError, match="gone"):
        at_one_moment(tmp_path, files, work)


@pytest.mark.parametrize("fresh", [False, True])
def test_what_is_made_anew_takes_nothing_from_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, fresh: bool
) -> None:
    """With `fresh` the store knows nothing older than the command; otherwise it knows everything."""
    site = Site.of(tmp_path, {})
    since: list[float] = []
    original = memo_module.Memo

    def memo(**given: float) -> memo_module.Memo:
        since.append(given["since"])
        return original(since=given["since"])

    monkeypatch.setattr(memo_module, "Memo", memo)
    before = time.time()
    site.write(fresh=fresh)
    (known,) = since

    assert known >= before if fresh else known == 0.0


def test_a_folder_of_someone_else_is_refused(tmp_path: Path) -> None:
    """It is told beside what is wrong with the journal; nothing is looked at, and nothing written."""
    site = start(tmp_path)
    site.edit("journal.yaml", "title:", "tilte: x\ntitle:")
    site.output.mkdir()
    (site.output / "letter.txt").write_text("Dear", "utf-8")
    done = site.write()

    assert [each.code for each in done.findings] == ["unknown-key", "output-not-ours"]
    assert (done.outcome, done.folder) == (None, site.output)
    assert tree(site.output) == {"letter.txt": b"Dear"}
