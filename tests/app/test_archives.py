"""An archive in place of a journal: what it is, and what to do with it first."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from tests.journal_maker import make_journal

COMMANDS = (
    ("validate", "{}"),
    ("write", "{}"),
    ("live", "{}"),
    ("begin", "experiment", "leaf-one", "{}"),
    ("facts", "--journal", "{}"),
    ("notes", "leaf-one", "--journal", "{}"),
    ("log", "leaf-one", "--journal", "{}"),
    ("schema", "--journal", "{}"),
)


def _packed(folder: Path) -> Path:
    """A data package as one file, as a site offers it."""
    path = folder / "leaf-one.zip"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("datapackage.json", "{}")
    return path


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
def test_an_archive_for_a_journal(
    command: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each command says to unpack it, and how the run of a data package is read."""
    path = _packed(tmp_path)
    status = status_of([word.format(path) for word in command])
    (said,) = [line for line in capsys.readouterr().err.splitlines() if line.startswith("Error: ")]

    assert status == Status.USAGE
    assert said.partition(": `")[2] == (
        f"{path}` is an archive, which is not opened: unpack it, and name the folder in it that holds journal.yaml; "
        "of a data package, name its datapackage.json: sitegen facts --from datapackage.json"
    )


def test_an_archive_to_draft_from(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A draft asks for what is in it."""
    root, path = make_journal(tmp_path / "j", {}), _packed(tmp_path)
    status = status_of(["begin", "experiment", "old", str(root), "--from", str(path), "--crop", "leaf"])

    assert status == Status.USAGE
    assert capsys.readouterr().err.splitlines()[-1] == (
        f"Error: `{path}` is an archive, which is not opened: unpack it, and name the spreadsheet or the diary that is "
        "in it"
    )
