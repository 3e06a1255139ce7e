"""What a preview finds at which address, against the files that are written."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

import pytest

from sitegen.core.store import StoredResult
from sitegen.memo import Memo
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.preview import Preview, Previewer
from tests.pipeline.bench import TODAY, Site, leaf, visible

ONE_LOG = "seasons/one/one/experiment.yaml"


def start(folder: Path) -> Site:
    """Two runs, one with an earlier id and an episode; a text."""
    more = "was: [older]\nepisodes: [{title: Begun, link: https://example.org/e1, published: 2026-04-12}]\n"
    runs = {"one": leaf("First", more=more), "two": leaf("Second", "tomato")}
    return Site.of(folder, runs, **{"about.md": "# About\n"})


def content(shown: Preview, address: str) -> bytes | None:
    """The bytes at an address; None where there is no file."""
    found = shown.find(address)
    page = found.page if found is not None else None
    return page.content if page is not None else None


def test_every_file_that_is_written_is_found(tmp_path: Path) -> None:
    """Pages, data, feeds, pictures for links, assets: each with the same bytes, and nothing else."""
    site = start(tmp_path)
    site.write()
    with Memo() as memo:
        shown = Previewer(site.root, TODAY, memo).refresh()
        found = {address: content(shown, address) for address in visible(site.output)}
        nothing = [
            "none.html",
            "none.xml",
            "experiments/none.html",
            "experiments/one.txt",
            "data/one/none.csv",
            "",
        ]
        others = [content(shown, address) for address in nothing]

    assert found == visible(site.output)
    kinds = {address.rpartition(".")[2] for address in found}
    assert kinds >= {"html", "csv", "json", "xml", "png", "css", "js"}
    assert others == [None] * len(nothing)


def test_the_state_of_a_file(tmp_path: Path) -> None:
    """It is another one once the page is made, and after an edit that shows; an asset's address is its state."""
    site = start(tmp_path)
    with Memo() as memo:
        session = Previewer(site.root, TODAY, memo)
        states: list[str] = []

        def note() -> None:
            found = session.refresh().find("experiments/two.html")
            assert found is not None
            states.append(found.state)

        note()
        note()
        content(session.refresh(), "experiments/two.html")
        note()
        site.edit("seasons/one/two/experiment.yaml", "as it was", "as it is")
        note()
        site.edit("seasons/one/two/experiment.yaml", "as it is", "as it was")
        note()
        shown = session.refresh()
        (asset,) = [a for a in visible_assets(shown) if a.rpartition("/")[2].startswith("style")]
        found = shown.find(asset)

    assert found is not None
    assert found.state == asset
    assert [states.index(state) for state in states] == [0, 0, 2, 3, 2]


def visible_assets(shown: Preview) -> list[str]:
    """The addresses of the assets that a page names."""
    page = content(shown, "index.html") or b""
    return sorted(set(re.findall(r'"(assets/[^"]+)"', page.decode())))


def test_an_old_asset_is_found_while_a_window_may_ask_for_it(tmp_path: Path) -> None:
    """After an edit of the look there is a new address, and the old one has what it had."""
    site = start(tmp_path)
    with Memo() as memo:
        session = Previewer(site.root, TODAY, memo)
        shown = session.refresh()
        before = {address: content(shown, address) for address in visible_assets(shown)}
        style = site.root / "look" / "assets" / "style.css"
        style.parent.mkdir(parents=True)
        style.write_text("p { color: teal }", "utf-8")
        shown = session.refresh(["look/assets/style.css"])
        after = {address: content(shown, address) for address in visible_assets(shown)}
        old = {address: content(shown, address) for address in before}

    assert old == before
    assert len(set(after) - set(before)) == 1
    assert [after[address] for address in set(after) - set(before)] == [b"p { color: teal }"]


def test_what_is_published_later_is_held_back(tmp_path: Path) -> None:
    """A preview says whether it shows more than the site does, and goes by the day."""
    site = Site.of(tmp_path, {"one": leaf("First", more="publish: 2026-05-01\n")})
    said = []
    with Memo() as memo:
        for today in (TODAY.replace(month=4), TODAY):
            shown = Previewer(site.root, today, memo).refresh()
            said.append(
                (
                    shown.holds_back(),
                    shown.unpublished("experiments/one.html"),
                    shown.unpublished("index.html"),
                )
            )

    assert said == [(True, True, False), (False, False, False)]


def test_a_change_of_the_theme_is_seen(tmp_path: Path) -> None:
    """The folders to watch beside the journal are those of its theme; a theme nobody has keeps the last pages."""
    site = start(tmp_path)
    with Memo() as memo:
        session = Previewer(site.root, TODAY, memo)
        first = session.refresh()
        before = content(first, "index.html")
        site.edit("journal.yaml", "title:", "theme: none\ntitle:")
        unknown = session.refresh(["journal.yaml"])
        kept = content(unknown, "index.html")

    assert before is not None
    assert kept == before
    assert [finding.code for finding in unknown.errors()] == ["unknown-theme"]
    assert {folder.name for folder in first.theme_folders} >= {"ledger"}
    assert Preview().theme_folders == ()
    assert (Preview().find("index.html"), Preview().errors(), Preview().fault()) == (None, (), "")


class Asked(Memo):
    """A store that counts the results it is asked for."""

    asked = 0

    def get_all(self, keys: Sequence[str]) -> dict[str, StoredResult]:
        """As ever."""
        self.asked += len(keys)
        return super().get_all(keys)


def test_results_in_memory_are_not_asked_of_the_store(tmp_path: Path) -> None:
    """After an edit of one run, only its own results might be stored from before."""
    site = start(tmp_path)
    with Asked(tmp_path / "memo") as memo:
        session = Previewer(site.root, TODAY, memo)
        session.refresh()
        before, memo.asked = memo.asked, 0
        site.edit(ONE_LOG, "as it was", "as it is")
        session.refresh([ONE_LOG])

    assert before > memo.asked == 1


def test_the_page_of_a_run_needs_no_summary_of_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked for, it summarizes its own run; a list summarizes those that are left."""
    site = start(tmp_path)
    made: list[str] = []
    original = steps.summary

    def noted(inputs: Inputs) -> object:
        made.append(inputs.folder.id)
        return original(inputs)

    monkeypatch.setattr(steps, "summary", noted)
    with Memo(tmp_path / "memo") as memo:
        shown = Previewer(site.root, TODAY, memo).refresh()
        content(shown, "experiments/two.html")
        own = set(made)
        content(shown, "index.html")

    assert (own, set(made)) == ({"two"}, {"one", "two"})


def test_a_chart_that_is_not_there_is_offered_those_that_are(tmp_path: Path) -> None:
    """A run with heights has one chart, and the mend of an unknown name offers no other."""
    site = start(tmp_path)
    (site.experiment("one") / "recap.md").write_text("```chart\nwatr\n```\n", "utf-8")
    (finding,) = site.write().findings

    assert (finding.code, finding.mend) == ("unknown-chart", "write `height`")
