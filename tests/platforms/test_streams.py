"""Streams that are closed, that nobody reads, that have no room; a working folder that is gone; no right to write.

In: one small journal; commands in processes of their own, started by a shell. Out: statuses, and what was said.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.pipeline.bench import TODAY
from tests.platforms.tour import ROOT, small_journal

pytestmark = pytest.mark.skipif(os.name != "posix", reason="started by a POSIX shell")

ASK = "say what was seen or done: sitegen log basil 'side shoots on two plants, picked P1 9 g, filled it'\n"
GONE = "the folder that the command was started in is gone\nchange to another folder, and run the command again\n"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a journal."""
    folder = tmp_path_factory.mktemp("streams")
    small_journal(folder / "bench")
    return folder


def _shell(bench: Path, line: str) -> tuple[int, str, str]:
    """The status of a line of shell, and what it printed and said; `sitegen` is the command, `$today` its day."""
    start = f'set -o pipefail; sitegen() {{ "{sys.executable}" -m sitegen "$@"; }}; today="--today {TODAY}"\n'
    done = subprocess.run(
        ["bash", "-c", start + line],
        env=os.environ | {"SITEGEN_CACHE": str(bench / "cache"), "PYTHONPATH": str(ROOT)},
        cwd=bench,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout, done.stderr


def test_closed_output_loses_what_was_printed_and_nothing_else(bench: Path) -> None:
    """As if all three led to /dev/null: the status is that of the command."""
    assert _shell(bench, "sitegen facts one --journal bench $today <&- >&- 2>&-") == (0, "", "")


def test_a_reader_that_leaves_does_not_change_the_status(bench: Path) -> None:
    """`| head -1` shows the first line; what comes after it goes nowhere, and nothing is said of it."""
    assert _shell(bench, "sitegen schema | head -1")[::2] == (0, "")


def test_errors_stay_errors_where_nobody_reads_them(bench: Path, tmp_path: Path) -> None:
    """A check whose report is cut short still ends with the status of a journal with errors."""
    journal = small_journal(tmp_path / "broken")
    place = journal / "seasons/one/one/experiment.yaml"
    place.write_text(place.read_text("utf-8").replace("9 cm", "nine"), "utf-8")

    assert _shell(bench, f"sitegen validate '{journal}' --json $today | true") == (1, "", "")


@pytest.mark.full
@pytest.mark.parametrize(
    "command",
    [
        "--help",
        "schema",
        "validate bench $today",
        "validate bench --json $today",
        "notes one --journal bench $today",
        "write bench -o site $today --fresh",
        "write bench -o site $today",
    ],
)
@pytest.mark.parametrize(
    "streams", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-", "| true", "2>&1 >/dev/null | true"]
)
def test_every_command_ends_well_on_any_streams(bench: Path, command: str, streams: str) -> None:
    """Closed, or left by their reader: no traceback, and the status of the command."""
    status, _, said = _shell(bench, f"sitegen {command} {streams}")

    assert (status, "Traceback" in said) == (0, False), said


@pytest.mark.full
@pytest.mark.parametrize("streams", ["2>&-", "<&- >&- 2>&-", "2>&1 >/dev/null | true"])
def test_an_entry_is_logged_whoever_hears_of_it(bench: Path, streams: str) -> None:
    """The log has the entry, once."""
    journal = bench / "other"
    shutil.rmtree(journal, ignore_errors=True)
    small_journal(journal)
    assert _shell(bench, f"sitegen log one 'day 33: note: heard' --journal other $today {streams}")[0] == 0

    text = (journal / "seasons/one/one/experiment.yaml").read_text("utf-8")
    assert text.endswith("  - day: 33\n    note: heard\n")
    assert text.count("heard") == 1


@pytest.mark.full
def test_a_closed_input_answers_no_questions(bench: Path) -> None:
    """Where nobody can be asked, it is wrong usage."""
    status, printed, said = _shell(bench, "sitegen log one --journal bench $today <&-")

    assert (status, printed) == (2, "")
    assert said.endswith(f"Error: {ASK}")


@pytest.mark.full
def test_an_output_opened_for_reading_is_as_a_closed_one(bench: Path) -> None:
    """Nothing can be printed there."""
    assert _shell(bench, "sitegen facts one --journal bench $today 1</dev/null") == (0, "", "")


IN_NO_FOLDER = "home=$PWD; mkdir gone; cd gone; rmdir ../gone; "


@pytest.mark.full
@pytest.mark.parametrize(
    "command",
    [
        'validate "$home/bench" $today',
        'facts one --journal "$home/bench" $today',
        'write "$home/bench" -o "$home/elsewhere" --fresh $today',
        'notes one --journal "$home/bench" $today',
    ],
)
def test_a_working_folder_that_is_gone_is_not_needed(bench: Path, command: str) -> None:
    """Whole paths lead to everything."""
    status, _, said = _shell(bench, f"{IN_NO_FOLDER}sitegen {command}")

    assert (status, "Traceback" in said) == (0, False), said


@pytest.mark.full
@pytest.mark.parametrize(
    "command", ["validate $today", 'write "$home/bench" -o site $today', "begin journal new"]
)
def test_a_working_folder_that_is_gone_is_named_where_it_is_needed(bench: Path, command: str) -> None:
    """A path that begins there leads nowhere: the system refuses."""
    assert _shell(bench, f"{IN_NO_FOLDER}sitegen {command}") == (5, "", GONE)
