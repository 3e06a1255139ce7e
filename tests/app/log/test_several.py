"""`log --from` and `log --photos` on the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.app.main import status_of
from tests.pipeline.filing.test_inbox import RUNS, bench, log


def told(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    """The status of a command, and the last line that it printed on stderr."""
    status = status_of(["log", *arguments, "--today", "2026-05-01"])
    return status, capsys.readouterr().err.strip().splitlines()[-1]


def test_an_inbox_is_filed_and_its_entries_taken_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """`--undo` takes the newest entry of one experiment, then the one before; the others stay."""
    lines = (
        "amber day 31:\n  height: 9 cm\n  note: tall\namber day 33: picked P1 9 g\nleaf day 30: watered 2 L\n"
    )
    root, inbox = bench(tmp_path, lines)

    assert told([str(root), "--from", str(inbox)], capsys) == (
        0,
        "3 visits filed; `sitegen log EXPERIMENT --undo` takes back the last entry of one",
    )
    assert inbox.read_bytes() == b""
    last = "  - day: 33\n    harvest: {P1: 9 g}\n"
    assert log(root, "amber-one") == "  - day: 31\n    height: 9 cm\n    note: tall\n" + last

    undo = ["amber-one", "--undo", "--journal", str(root)]
    assert [status_of(["log", *undo]) for _ in range(3)] == [0, 0, 1]
    assert (log(root, "amber-one"), log(root, "leaf-one")) == ("", "  - day: 30\n    water: 2 L\n")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["amber", "--from", "INBOX"], "`--from` takes no experiment: begin its lines with the experiment"),
        (["amber", "--photos", "FOLDER"], "`--photos` takes no experiment: write `--to amber`"),
        (
            ["--from", "INBOX", "--photos", "FOLDER"],
            "`--from` stands alone: leave out texts, days and other options",
        ),
        (["--from", "INBOX", "--day", "3"], "`--from` stands alone: leave out texts, days and other options"),
        (["--to", "amber"], "`--to` goes with `--photos`: write the experiment first in place of it"),
        (["JOURNAL", "--photos", "FOLDER", "--to", "unheard"], "there is no experiment `unheard`"),
        (
            ["JOURNAL", "--photos", "ALBUM"],
            "belongs to the journal: name the folder that the pictures come from",
        ),
    ],
)
def test_what_does_not_go_together_is_wrong_usage(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], message: str
) -> None:
    """Nothing is filed, and the error says what to leave out or to write."""
    root, inbox = bench(tmp_path)
    folder, album = tmp_path / "camera", root / "seasons" / "one" / "amber-one" / "photos"
    folder.mkdir()
    album.mkdir()
    places = {"INBOX": inbox, "FOLDER": folder, "ALBUM": album, "JOURNAL": root}
    status, line = told([str(places.get(each, each)) for each in arguments], capsys)

    assert (status, message in line) == (2, True), line
    assert all(log(root, run) == "" for run in RUNS)
