"""What `log` and `notes` import: whoever logs a visit waits for them every day."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.entered import journal_of_one

SCRIPT = """
import sys
from sitegen.app.main import status_of
status = status_of(sys.argv[1:])
print("modules:", *sys.modules)
sys.exit(status)
"""
# What looks for mistakes in a file compiles some sixty patterns: it is imported where there is a mistake.
MISTAKES = {
    f"sitegen.ingest.yaml.{name}"
    for name in ("brackets", "line_checks", "pitfalls", "sound_parts", "structure_checks", "syntax_errors")
}
# What neither command calls.
NEITHER = MISTAKES | {
    *("PIL", "altair", "jinja2", "markdown_it", "numpy", "pandas", "platformdirs", "vl_convert", "zipfile"),
    *("importlib.metadata", "multiprocessing", "statistics"),
    *(
        "sitegen.measure",
        "sitegen.photos",
        "sitegen.plot",
        "sitegen.render",
        "sitegen.words",
        "sitegen.write",
    ),
    *("sitegen.ingest.data_package", "sitegen.ingest.photos", "sitegen.ingest.sheets"),
    *("sitegen.core.site.chart", "sitegen.core.site.content"),
    *("sitegen.judge.causes", "sitegen.judge.personal"),
    *("sitegen.pipeline.results", "sitegen.pipeline.engine.unchanged"),
}
# An entry is judged by its run alone, and nothing is kept of that: no store, no facts.
WITHOUT = {
    "log": NEITHER
    | {
        *("babel", "sqlite3", "sitegen.memo", "sitegen.core.facts", "sitegen.notes"),
        *(
            "sitegen.pipeline.engine.build",
            "sitegen.pipeline.engine.files",
            "sitegen.pipeline.engine.snapshot",
        ),
        *("sitegen.ingest.catalogues", "sitegen.filing.inbox", "sitegen.filing.words.understanding"),
    },
    # The facts are kept: no log is read, and nothing is judged.
    "notes": NEITHER
    | {
        *("filelock", "sitegen.judge", "sitegen.filing", "sitegen.ingest.log", "sitegen.ingest.setup"),
        *("sitegen.notes.cards", "sitegen.notes.check", "sitegen.notes.templates"),
        *(
            f"sitegen.notes.kinds.{name}"
            for name in ("answers", "description", "follow_up", "gaps", "post", "shots")
        ),
    },
}
ARGUMENTS = {"log": ("height: about 9 in", "--day", "26"), "notes": ()}


def imported(folder: Path, command: str, run: Path) -> set[str]:
    """The modules that a command of this journal imports."""
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, command, str(run), *ARGUMENTS[command]],
        env=os.environ | {"SITEGEN_CACHE": str(folder / "cache")},
        capture_output=True,
        text=True,
        check=True,
    )
    modules = done.stdout.splitlines()[-1].removeprefix("modules: ").split()
    return set(modules)


@pytest.mark.parametrize("command", WITHOUT)
def test_what_is_not_called_is_not_imported(tmp_path: Path, command: str) -> None:
    """Neither command pays for what it does without; notes of a run find its facts in the cache."""
    (run,) = (each.parent for each in journal_of_one(tmp_path).glob("seasons/*/*/experiment.yaml"))
    if command == "notes":
        assert "sitegen.measure" in imported(tmp_path, command, run)

    assert imported(tmp_path, command, run) & WITHOUT[command] == set()
