"""Files of an earlier format: read as they are, and rewritten with everything else of them as it was."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import pytest

from sitegen.app.main import status_of
from sitegen.core.format.versions import Step
from sitegen.pipeline import validate
from sitegen.pipeline.filing import upgrading as module
from sitegen.pipeline.filing.upgrading import upgrade
from tests.cases import BASE

TODAY = dt.date(2025, 4, 1)
LOG = "seasons/spring/crate-run/experiment.yaml"
OLD = """\
# Written in the first week.
title: Sorrel in a crate   # a wooden one
crop: sorrel
system: crate
start: 2025-03-01
plants: 4
log:
  - {day: 0, sow: 2 a spot}
"""


def _journal(root: Path, text: str) -> Path:
    shutil.copytree(BASE, root)
    (root / LOG).parent.mkdir(parents=True)
    (root / LOG).write_bytes(text.encode("utf-8"))
    return root


def test_an_older_file_in_utf16_stays_so(tmp_path: Path) -> None:
    """A file that an editor saved as UTF-16 is rewritten in UTF-16, with its mark."""
    root = _journal(tmp_path / "journal", OLD)
    (root / LOG).write_bytes(OLD.encode("utf-16"))
    upgrade(root, write=True)

    first, rest = OLD.split("\n", 1)
    assert (root / LOG).read_bytes() == f"{first}\nformat: 1\n{rest}".encode("utf-16")


def test_an_older_file_is_read_and_rewritten(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The difference is shown first; then the file has its format, its comments are where they were, and no finding."""
    root = _journal(tmp_path / "journal", OLD)
    command = ["validate", str(root), "--today", TODAY.isoformat(), "--upgrade"]

    assert [f.code for f in validate(root, TODAY).findings] == ["older-format"]
    assert status_of([*command, "--diff"]) == 0
    assert capsys.readouterr().out == (
        f"--- a/{LOG}\n+++ b/{LOG}\n@@ -1,4 +1,5 @@\n # Written in the first week.\n+format: 1\n"
        " title: Sorrel in a crate   # a wooden one\n crop: sorrel\n system: crate\n"
    )
    assert (root / LOG).read_text("utf-8") == OLD
    assert status_of(command) == 0
    assert capsys.readouterr() == (
        "no findings: 1 experiment, 1 entry\n",
        f"upgraded {LOG}\n1 file upgraded\n",
    )
    assert (root / LOG).read_text("utf-8") == OLD.replace("title:", "format: 1\ntitle:", 1)
    assert upgrade(root, write=True) == ()


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (OLD, OLD.replace("title:", "format: 1\ntitle:", 1)),
        (f"format: 0 # first\n{OLD}", f"format: 1 # first\n{OLD}"),
        (OLD.replace("\n", "\r\n"), OLD.replace("title:", "format: 1\ntitle:", 1).replace("\n", "\r\n")),
        (f"\ufeff{OLD}", "\ufeff" + OLD.replace("title:", "format: 1\ntitle:", 1)),
        ("{title: A, crop: sorrel}  # short", "{format: 1, title: A, crop: sorrel}  # short"),
        (f"fromat: 0\n{OLD}", f"fromat: 0\n{OLD}"),
        (f"format: 1\n{OLD}", f"format: 1\n{OLD}"),
        (f"format: 9\n{OLD}", f"format: 9\n{OLD}"),
        ("title: [", "title: ["),
    ],
    ids=["none", "zero", "returns", "mark", "braces", "misspelt", "present", "later", "broken"],
)
def test_only_the_number_is_written(before: str, after: str, tmp_path: Path) -> None:
    """Line ends, a byte order mark and comments stay; what cannot be known to be older is left alone."""
    root = _journal(tmp_path / "journal", before)

    upgrade(root, write=True)

    assert (root / LOG).read_bytes().decode("utf-8") == after


STEPS = (
    Step(1, {("experiment", "name"): "title", ("entry", "picked"): "picking"}),
    Step(
        2,
        {
            ("pick", "grams"): "weight",
            ("tub", "in"): "system",
            ("entry", "picking"): "harvest",
            ("lamp", "watts"): "power",
        },
    ),
)
RENAMED = """\
name: A          # two tubs
tubs:
  left: {"in": crate, plants: P1-P2}
  picked: {in: crate, plants: P3}   # an id that is an old key elsewhere
log:
  - {day: 3, picked: {P1: {grams: 8 g}, P2: {grams: 9 g}}}   # picked twice
  - day: 4
    picked: [{plants: P1, grams: 3 g}]
    note: "picked: grams"
"""


def test_keys_are_renamed_where_they_stand(tmp_path: Path) -> None:
    """Over two versions: by table and not by word, in lists, behind plants, under ids, in quotes; texts stay."""
    root = _journal(tmp_path / "journal", RENAMED)
    (root / "gear.yaml").write_text("lamps:\n  bar: {name: Bar, watts: 45 W}\n", "utf-8")
    (root / "journal.yaml").write_text("title: Bench\n", "utf-8")

    upgrade(root, write=True, steps=STEPS)

    assert (
        (root / LOG).read_text("utf-8")
        == """\
format: 2
title: A          # two tubs
tubs:
  left: {system: crate, plants: P1-P2}
  picked: {system: crate, plants: P3}   # an id that is an old key elsewhere
log:
  - {day: 3, harvest: {P1: {weight: 8 g}, P2: {weight: 9 g}}}   # picked twice
  - day: 4
    harvest: [{plants: P1, weight: 3 g}]
    note: "picked: grams"
"""
    )
    assert (root / "gear.yaml").read_text("utf-8") == "lamps:\n  bar: {name: Bar, power: 45 W}\n"
    assert (root / "journal.yaml").read_text("utf-8") == "format: 2\ntitle: Bench\n"


def test_nothing_is_written_where_only_the_difference_is_asked_for(tmp_path: Path) -> None:
    """Each file comes with its place, in the order of kinds and places, and with what would change in it."""
    root = _journal(tmp_path / "journal", OLD)
    (root / "journal.yaml").write_text("title: Bench\n", "utf-8")
    found = upgrade(root, write=False)

    assert [each.place for each in found] == ["journal.yaml", LOG]
    assert found[0].difference == (
        "--- a/journal.yaml\n+++ b/journal.yaml\n@@ -1 +1,2 @@\n+format: 1\n title: Bench\n"
    )
    assert (root / LOG).read_text("utf-8") == OLD


def test_files_without_a_number_are_of_the_journals_format(tmp_path: Path) -> None:
    """Crops, gear and seasons; of one that cannot be told nothing is renamed."""
    root = _journal(tmp_path / "journal", OLD)
    steps = (Step(1, {("crop", "label"): "name", ("lamp", "watts"): "power", ("season", "name"): "title"}),)
    files = {
        "crops.yaml": "sorrel: {label: Sorrel, kind: leafy}\nlabel: {label: Label, kind: leafy}\n",
        "gear.yaml": "lamps: {bar: {name: Bar, watts: 45 W}}\n",
        "seasons/spring/season.yaml": "name: Spring\n",
    }
    for place, text in files.items():
        (root / place).write_text(text, "utf-8")
    seen = []
    for settings in (
        "title: [",
        "format: 1\ntitle: Bench\n",
        "format: nine\ntitle: Bench\n",
        "title: Bench\n",
    ):
        (root / "journal.yaml").write_text(settings, "utf-8")
        seen.append({each.place for each in upgrade(root, write=False, steps=steps)} & {*files})
    upgrade(root, write=True, steps=steps)

    assert seen == [set(), set(), set(), {*files}]
    assert {place: (root / place).read_text("utf-8") for place in files} == {
        "crops.yaml": "sorrel: {name: Sorrel, kind: leafy}\nlabel: {name: Label, kind: leafy}\n",
        "gear.yaml": "lamps: {bar: {name: Bar, power: 45 W}}\n",
        "seasons/spring/season.yaml": "title: Spring\n",
    }


def test_files_outside_of_the_journal_are_left(tmp_path: Path) -> None:
    """A link that leads out is not read through, whether it is a log or the settings; nor is what is no text."""
    root = _journal(tmp_path / "journal", OLD)
    for place in (LOG, "journal.yaml"):
        (tmp_path / place.replace("/", "-")).write_text(OLD, "utf-8")
        (root / place).unlink()
        (root / place).symlink_to(tmp_path / place.replace("/", "-"))
    (root / "gear.yaml").write_bytes(b"lamps: {bar: {name: caf\xe9, watts: 45 W}}\n")

    assert upgrade(root, write=True, steps=STEPS) == ()
    assert (tmp_path / "journal.yaml").read_text("utf-8") == OLD


def test_a_file_that_changed_meanwhile_is_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is none of those that come back."""
    root = _journal(tmp_path / "journal", OLD)
    (root / "journal.yaml").write_text("title: Bench\n", "utf-8")
    original = module.replace_unchanged

    def saved(path: Path, before: bytes, after: bytes) -> bool:
        if path.name == "journal.yaml":
            path.write_text("title: Mine\n", "utf-8")
        return original(path, before, after)

    monkeypatch.setattr(module, "replace_unchanged", saved)

    assert [each.place for each in upgrade(root, write=True)] == [LOG]
    assert (root / "journal.yaml").read_text("utf-8") == "title: Mine\n"
