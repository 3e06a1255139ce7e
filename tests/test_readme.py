"""The samples of the README: a reader who types them has a journal without findings."""

from __future__ import annotations

import datetime as dt
import re
import shlex
from pathlib import Path

import pytest

from sitegen.app.main import status_of
from sitegen.pipeline import validate

README = (Path(__file__).parent.parent / "README.md").read_text("utf-8")
BENCH = "my-bench"
TODAY = dt.date(2026, 11, 28)  # long after the sample ends: its end is in its log


def samples() -> dict[str, str]:
    """The texts of files that the README shows, by the name in the line above each."""
    pairs = re.findall(r"^`([\w/.-]+\.yaml)`[^\n]*:\n\n```yaml\n(.*?)```\n", README, re.MULTILINE | re.DOTALL)
    return dict(pairs)


def commands() -> list[list[str]]:
    """The commands of "From an empty folder", without the program's own name."""
    part = README.partition("## From an empty folder")[2].partition("\n## ")[0]
    lines = "\n".join(re.findall(r"```sh\n(.*?)```", part, re.DOTALL)).splitlines()
    return [shlex.split(line.partition("sitegen ")[2]) for line in lines if line.startswith("sitegen ")]


def test_samples_validate_as_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Gear, crops and the experiment as printed, in a journal that `begin` wrote, have no findings."""
    monkeypatch.chdir(tmp_path)
    found = samples()
    assert list(found) == ["gear.yaml", "crops.yaml", "experiment.yaml"]
    for words in (["begin", "journal", BENCH], ["begin", "season", "2026-spring", BENCH]):
        assert status_of(words) == 0
    root = tmp_path / BENCH
    for name in ("gear.yaml", "crops.yaml"):
        (root / name).write_text(found[name], "utf-8")
    folder = root / "seasons" / "2026-spring" / "basil-wick"
    folder.mkdir(parents=True)
    (folder / "experiment.yaml").write_text(found["experiment.yaml"], "utf-8")

    checked = validate(root, TODAY)
    assert (checked.findings, checked.experiments, checked.entries) == ((), 1, 6)


def test_from_an_empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The commands of the README, one after the other with the samples between them, end with a page."""
    monkeypatch.chdir(tmp_path)
    given, found = commands(), samples()
    assert len(given) <= 10
    for words in given:
        assert status_of(words) == 0, words
        if words[:2] == ["begin", "journal"]:
            for name in ("gear.yaml", "crops.yaml"):
                (tmp_path / BENCH / name).write_text(found[name], "utf-8")
        if words[:2] == ["begin", "experiment"]:
            path = tmp_path / BENCH / "seasons" / "2026-spring" / words[2] / "experiment.yaml"
            path.write_text(found["experiment.yaml"], "utf-8")
    assert (tmp_path / BENCH / "output" / "experiments" / "basil-wick.html").is_file()
