"""The entry point: commands, outcomes and their statuses; the journal's folder."""

from __future__ import annotations

import errno
import json
import platform
import sys
from pathlib import Path

import click
import pytest

from sitegen import __version__, pipeline
from sitegen.app import main
from sitegen.app.console.status import Status
from sitegen.app.main import cli, run, status_of
from sitegen.app.options import report, root_of
from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.format.schema import FILES, reference, schema
from sitegen.pipeline.results import Checked

COMMANDS = {
    "begin": "start a journal, a season or an experiment",
    "log": "add a visit to the log of an experiment",
    "validate": "report what is wrong or odd in a journal",
    "facts": "print computed facts",
    "write": "write the site",
    "notes": "draft what to speak in an episode, and what goes under it",
    "live": "preview a journal while it is being written",
    "schema": "print the format for editors and people",
}


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A journal that nothing reads."""
    (tmp_path / "journal.yaml").touch()
    return tmp_path


def test_commands_in_their_order(capsys: pytest.CaptureFixture[str]) -> None:
    """`--help` lists every command with its purpose, and an example."""
    assert status_of(["--help"]) == 0

    printed = capsys.readouterr().out
    listed = [
        line.split(maxsplit=1) for line in printed.partition("Commands:\n")[2].splitlines()[: len(COMMANDS)]
    ]
    assert dict(listed) == COMMANDS
    assert [name for name, _ in listed] == list(COMMANDS)
    assert "Example: sitegen begin journal my-bench" in printed


@pytest.mark.parametrize("name", COMMANDS)
def test_help_of_every_command(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Each command has its own help, with an example."""
    assert status_of([name, "-h"]) == 0
    assert f"Example: sitegen {name} " in " ".join(capsys.readouterr().out.split())


def test_unknown_command(capsys: pytest.CaptureFixture[str]) -> None:
    """A word that is no command is wrong usage; the nearest one is offered."""
    assert status_of(["wirte"]) == 2
    assert capsys.readouterr().err.endswith("Error: there is no command `wirte`: write `write`\n")
    assert cli.get_command(click.Context(cli), "wirte") is None


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    """The version is that of the package."""
    assert (status_of(["--version"]), capsys.readouterr().out) == (0, f"sitegen, version {__version__}\n")


class Raises:
    """A command's work that ends in an exception."""

    def __init__(self, error: BaseException) -> None:
        self._error = error

    def __call__(self, *_: object) -> None:
        """Fail."""
        raise self._error


@pytest.mark.parametrize(
    ("error", "status", "text"),
    [
        (KeyboardInterrupt(), 130, "interrupted\n"),
        (click.Abort(), 130, "interrupted\n"),
        (click.UsageError("no"), 2, "Error: no\n"),
        (click.ClickException("no"), 2, "Error: no\n"),
    ],
)
def test_outcomes(
    error: BaseException,
    status: int,
    text: str,
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """An interrupt ends with 130, wrong usage with 2."""
    monkeypatch.setattr(pipeline, "validate", Raises(error))

    assert status_of(["validate", str(bench)]) == status
    assert capsys.readouterr().err.splitlines(keepends=True)[-1] == text


def test_fault(bench: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Any other exception is a fault of the program: status 3, the traceback, and what to report with it."""
    monkeypatch.setattr(pipeline, "validate", Raises(RuntimeError("odd")))

    assert status_of(["validate", str(bench)]) == 3
    text = capsys.readouterr().err
    assert text.startswith("Traceback (most recent call last):\n")
    assert text.endswith(
        "RuntimeError: odd\n\nThis is a fault of sitegen, not of the journal. "
        "Please report the lines above, with:\n"
        f"  sitegen {__version__}, Python {platform.python_version()}, {platform.platform()}\n"
    )


@pytest.mark.parametrize("error", [BrokenPipeError(), BrokenPipeError(errno.EPIPE, "Broken pipe")])
def test_closed_pipe(
    error: OSError, bench: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A closed pipe is no error, and nothing is said of it."""
    monkeypatch.setattr(pipeline, "validate", Raises(error))

    assert (status_of(["validate", str(bench)]), capsys.readouterr()) == (0, ("", ""))


def test_run_ends_with_the_status(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The process ends with the command's status; garbage is collected less often than usual."""
    raised: list[bool] = []
    monkeypatch.setattr(main, "raise_gc_threshold", lambda: raised.append(True))
    error = Finding("no-log", Source("e.yaml"), "no log")
    monkeypatch.setattr(pipeline, "validate", lambda *_: Checked((error,)))
    with pytest.raises(SystemExit) as ended:
        run(["validate", str(bench)])

    assert (ended.value.code, raised) == (1, [True])


def test_nearest_journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The journal is the folder given, else the current one or the nearest above it."""
    inner = tmp_path / "outer" / "inner"
    deep = inner / "seasons" / "one"
    deep.mkdir(parents=True)
    for folder in (inner, tmp_path / "outer"):
        (folder / "journal.yaml").touch()
        monkeypatch.chdir(folder)
        assert root_of(None) == folder
    monkeypatch.chdir(deep)
    assert root_of(None) == inner
    assert root_of(Path("../../../../outer")) == tmp_path / "outer"


@pytest.mark.parametrize("given", [True, False])
def test_no_journal(given: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a journal the message names where it was looked for, and how to begin one."""
    monkeypatch.chdir(tmp_path)
    with pytest.raises(click.UsageError) as wrong:
        root_of(tmp_path if given else None)

    where = f"`{tmp_path}`" if given else "this folder and those above it"
    mend = "name the journal's folder, or start one with `sitegen begin journal`"
    assert wrong.value.message == f"there is no journal.yaml in {where}; {mend}"


@pytest.mark.parametrize(
    ("terminal", "no_colour", "coloured"), [(True, "", True), (True, "1", False), (False, "", False)]
)
def test_colour(
    terminal: bool,
    no_colour: str,
    coloured: bool,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Findings are in colour on a terminal, unless NO_COLOR is set."""
    monkeypatch.setenv("NO_COLOR", no_colour)
    monkeypatch.setattr(click.utils, "should_strip_ansi", lambda *_: False)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: terminal)
    report([Finding("no-log", Source("e.yaml"), "no log")], tmp_path)

    assert ("\x1b[" in capsys.readouterr().err) is coloured


def test_no_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without findings nothing is printed."""
    report([], tmp_path)

    assert capsys.readouterr() == ("", "")


def test_schema_of_a_journal(capsys: pytest.CaptureFixture[str]) -> None:
    """A schema offers the names of the journal named, and of its experiment; another experiment is not there."""
    demo = str(Path(__file__).parents[2] / "content_demo")
    arguments = ["schema", "experiment.yaml", "--journal", demo]
    assert status_of([*arguments, "--for", "pebble-two-lamps"]) == 0
    entry = json.loads(capsys.readouterr().out)["$defs"]["entry"]["properties"]

    assert entry["transplant"]["anyOf"][0]["enum"][:2] == ["P1", "P2"]
    assert {"left", "right"} <= entry["ec"]["properties"].keys()
    assert status_of([*arguments, "--for", "pebble-two-lamp"]) == Status.USAGE
    assert "there is no experiment `pebble-two-lamp`: write `pebble-two-lamps`" in capsys.readouterr().err
    assert status_of(["schema", "--for", "pebble-two-lamps"]) == Status.USAGE


def test_schema(capsys: pytest.CaptureFixture[str]) -> None:
    """The format in words, one schema, or all of them."""
    assert status_of(["schema"]) == status_of(["schema", "gear.yaml"]) == status_of(["schema", "--json"]) == 0

    one, every = json.dumps(schema("gear.yaml"), indent=2), {name: schema(name) for name in FILES}
    assert capsys.readouterr().out == f"{reference()}\n{one}\n{json.dumps(every, indent=2)}\n"
