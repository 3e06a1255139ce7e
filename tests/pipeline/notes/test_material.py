"""The material of notes: facts that are kept, and the earlier runs of the crop."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.core.facts.tree import Facts
from sitegen.memo import Memo
from sitegen.notes.drafts import Wanted
from sitegen.pipeline.engine import build, files
from sitegen.pipeline.engine.files import SETTLED
from sitegen.pipeline.engine.steps import KeptFacts
from sitegen.pipeline.facts import facts_of
from sitegen.pipeline.notes.material import drafted, material_of
from tests.conftest import DEMO, TODAY
from tests.journal_maker import make_journal
from tests.notes.golden import UNWEIGHED
from tests.notes.materials import of_demo


def _without_samples(facts: Facts) -> Facts:
    rows = facts.run.rows
    exports = tuple(replace(each, times=(), values=()) for each in rows.exports)
    return replace(facts, run=replace(facts.run, rows=replace(rows, exports=exports)))


def test_kept_facts_are_the_facts() -> None:
    """Facts from the store are those that are measured, but for the samples of sensors."""
    for run in ("emberfrill-hot-loft", "pebble-two-lamps"):
        of_demo(run)  # keeps them
        found = material_of(DEMO, run, TODAY)
        assert found.material is not None
        _, (measured,), _ = facts_of(DEMO, [run], TODAY)
        assert found.material.facts == _without_samples(measured)


def test_facts_are_measured_again_after_an_edit(tmp_path: Path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    """They come from the store until something that they were made from has changed."""
    measured: list[str] = []
    original = build.steps.kept_facts

    def counted(inputs: build.Inputs) -> KeptFacts:
        kept = original(inputs)
        measured.append(kept.facts.id)
        return kept

    monkeypatch.setattr(build.steps, "kept_facts", counted)
    make_journal(tmp_path, {"amber": UNWEIGHED})
    for _ in range(2):
        assert material_of(tmp_path, "amber", TODAY).material is not None
    assert measured == ["amber"]
    path = tmp_path / "seasons/one/amber/experiment.yaml"
    path.write_text(
        path.read_text("utf-8").replace("plants: [P1], weight: unweighed", "plants: [P1], weight: 12 g")
    )
    found = material_of(tmp_path, "amber", TODAY)
    assert measured == ["amber", "amber"]
    assert found.material is not None
    assert [pick.weight.low for pick in found.material.facts.run.rows.picks] == [12.0, 0.0]


def test_files_at_rest_are_read_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Notes keep the digests of files: the next ones read none for them, pictures least of all."""
    make_journal(tmp_path, {"amber": UNWEIGHED})
    time.sleep(2 * SETTLED / 1e9)  # a file as new as the look at it is not trusted
    read: list[str] = []
    original = files._content
    monkeypatch.setattr(files, "_content", lambda path: read.append(path.name) or original(path))
    assert material_of(tmp_path, "amber", TODAY).material is not None
    assert "experiment.yaml" in read
    read.clear()

    assert material_of(tmp_path, "amber", TODAY).material is not None
    assert read == []


def test_a_damaged_row_is_measured_again(tmp_path: Path) -> None:
    """A row of the store that does not fit counts as absent."""
    make_journal(tmp_path, {"amber": UNWEIGHED})
    first = material_of(tmp_path, "amber", TODAY).material
    with Memo() as memo:
        for key in [key for key in _keys(memo) if "amber" in key]:
            memo.put(key, {"trace": {}, "value": [1, 2, 3]})
    assert first is not None
    second = material_of(tmp_path, "amber", TODAY).material
    assert second is not None
    assert second.facts == first.facts


def _keys(memo: Memo) -> list[str]:
    import sqlite3

    files = list(Path(memo._folder).glob("*.sqlite*"))
    with sqlite3.connect(next(file for file in files if file.suffix.startswith(".sqlite"))) as link:
        return [key for (key,) in link.execute("SELECT key FROM entries")]


def test_earlier_runs_are_those_of_the_crop_that_began_before() -> None:
    """Oldest first; a planned run, and one from memory, is none."""
    assert [run.run for run in of_demo("cinder-beside-pebble").earlier] == [
        "pebble-lantern-first",
        "pebble-two-lamps",
        "cinder-button-flood",
    ]
    assert of_demo("pebble-lantern-first").earlier == ()


def test_plain_notes_say_nothing_of_lines() -> None:
    """The text under an episode goes out as it is: with `plain` no comment and no mark stands in it."""
    found = material_of(DEMO, "emberfrill-hot-loft", TODAY)
    marked, plain = (drafted(found, Wanted("description"), plain=each).text or "" for each in (False, True))

    assert "<!--" in marked
    assert "<!--" not in plain


def test_chapters_have_data_behind_them() -> None:
    """Each chapter with its time and title, as the text has them."""
    found = drafted(material_of(DEMO, "bean-signal-box", TODAY), Wanted("chapters"))
    chapters = found.data["chapters"]

    assert len(chapters) >= 3
    assert [each["title"] for each in chapters] == [
        line.split(" ", 1)[1] for line in (found.text or "").splitlines()
    ]
