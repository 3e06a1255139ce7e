"""Other environments: the same journal gives the same bytes, and the same words, on every machine.

In: one small journal, taken through all commands in a process of its own (`tour.py`).
"""

from __future__ import annotations

import csv
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import click
import pytest

from sitegen.app.main import cli, status_of
from sitegen.measure.methods import formulas, method_of
from tests.pipeline.bench import tree
from tests.platforms.tour import ROOT, TAKE_ON, Toured, small_journal, tour, toured

DONE = "0 0 0 0 0 0 0 0 0"
NO_CACHE: dict[str, str | None] = {"SITEGEN_CACHE": None, "XDG_CACHE_HOME": None}

# All at once, for each change: ASCII, a day ahead, no home, no colours, other hashes, another language.
HOSTILE: dict[str, Any] = {
    "LC_ALL": "C",
    "LANG": None,
    "PYTHONUTF8": "0",
    "PYTHONCOERCECLOCALE": "0",
    "TZ": "Pacific/Kiritimati",
    "HOME": "/nonexistent/home",
    **NO_CACHE,
    "TERM": "dumb",
    "NO_COLOR": "1",
    "PYTHONHASHSEED": "4242",
    "LANGUAGE": "tr",
    "mask": 0o077,
}
ENVIRONMENTS: dict[str, dict[str, Any]] = {
    "ASCII": {"LC_ALL": "C", "LANG": None, "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    "C": {"LC_ALL": "C", "LANG": None, "PYTHONUTF8": "0"},
    "words of another language": {"LC_ALL": "tr_TR.UTF-8", "LANGUAGE": "tr"},
    "farthest east": {"TZ": "Pacific/Kiritimati"},
    "farthest west": {"TZ": "Pacific/Pago_Pago"},
    "summer time": {"TZ": "Europe/Berlin"},
    "no such zone": {"TZ": "No/Such"},
    "no home": {"HOME": None, **NO_CACHE},
    "an empty home": {"HOME": "", **NO_CACHE},
    "a home that is not there": {"HOME": "/nonexistent/home", **NO_CACHE},
    "no temporary folder": {"TMPDIR": "/nonexistent/tmp"},
    "a plain terminal": {"TERM": "dumb", "NO_COLOR": "1"},
    "no terminal, no path": {"TERM": None, "PATH": None},
    "other hashes": {"PYTHONHASHSEED": "1"},
    "yet other hashes": {"PYTHONHASHSEED": "4242"},
    "no asserts": {"PYTHONOPTIMIZE": "1"},
    "no docstrings": {"PYTHONOPTIMIZE": "2"},
    "bytes are no text": {"python": ("-bb",)},
    "warnings are errors": {"python": ("-W", "error", "-X", "dev")},
    "rights for the owner": {"mask": 0o077},
    "rights for all": {"mask": 0},
    "rights to read": {"mask": 0o277},
    "a date for packagers": {"SOURCE_DATE_EPOCH": "1"},
}
FOLDERS = {
    "spaces": " with  spaces ",
    "quotes": "qu'o\"te`$HOME",
    "a newline": "new\nline",
    "bytes that are no UTF-8": "\udcff\udce9",
    "emoji": "\N{SEEDLING} Ünï e\u0301",
    "signs of shells and addresses": "-#?%41&;|{{ a }}\\",
}


@pytest.fixture(scope="session")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Toured:
    """The tour on this machine as it is."""
    made = toured(tmp_path_factory.mktemp("plain"))
    assert (made.statuses, b"Traceback" in made.said) == (DONE, False), made.said.decode()
    return made


def _same(made: Toured, plain: Toured) -> None:
    assert b"Traceback" not in made.said, made.said.decode()
    assert made.statuses == DONE
    assert made.site == plain.site
    assert (made.log, made.notes) == (plain.log, plain.notes)
    assert made.printed == plain.printed


@pytest.mark.full
def test_all_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    """A machine that differs in everything writes and prints what this process does."""
    here = tmp_path / "here"
    here.mkdir()
    journal = small_journal(here / "bench")
    monkeypatch.setenv("SITEGEN_CACHE", str(here / "cache"))
    tour(str(journal), str(here / "site"), str(here / "notes.md"))
    said = capfdbinary.readouterr()
    wanted = Toured(
        DONE,
        said.out,
        said.err,
        tree(here / "site"),
        (journal / "seasons/one/one/experiment.yaml").read_bytes(),
        (here / "notes.md").read_bytes(),
    )
    there = tmp_path / "qu'o\"te \udcff"
    there.mkdir()

    _same(toured(there, **HOSTILE), wanted)


@pytest.mark.full
@pytest.mark.parametrize("name", ENVIRONMENTS)
def test_an_environment_changes_nothing(tmp_path: Path, plain: Toured, name: str) -> None:
    """Site, log, notes and all that is printed are the same bytes."""
    _same(toured(tmp_path, **ENVIRONMENTS[name]), plain)


@pytest.mark.full
def test_a_turkish_machine(tmp_path: Path, plain: Toured) -> None:
    """Where the process has taken on a locale with a decimal comma, other names of months and another `i`, too."""
    if shutil.which("localedef") is None:
        pytest.skip("this machine makes no locales")
    made = ["localedef", "-i", "tr_TR", "-f", "UTF-8", str(tmp_path / "locales" / "tr_TR.UTF-8")]
    (tmp_path / "locales").mkdir()
    if subprocess.run(made, check=False, capture_output=True).returncode:
        pytest.skip("this machine has no sources of locales")
    turkish = {"LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8", "LANGUAGE": "tr"}
    turkish |= {"LOCPATH": str(tmp_path / "locales"), TAKE_ON: "1"}
    asked = "import locale; locale.setlocale(locale.LC_ALL, ''); print(f'{1.5:n}', locale.nl_langinfo(locale.MON_5))"
    said = subprocess.run(
        [sys.executable, "-c", asked], env=os.environ | turkish, check=True, capture_output=True, text=True
    ).stdout

    assert said == "1,5 Mayıs\n"
    _same(toured(tmp_path, **turkish), plain)


@pytest.mark.full
@pytest.mark.parametrize("name", FOLDERS)
def test_the_name_of_a_folder_changes_nothing(tmp_path: Path, plain: Toured, name: str) -> None:
    """Journal, output, cache and notes may lie in a folder of any name."""
    folder = tmp_path / FOLDERS[name]
    folder.mkdir()

    _same(toured(folder), plain)


@pytest.mark.full
def test_an_encoding_without_signs_prints_their_numbers(tmp_path: Path, plain: Toured) -> None:
    """Latin-1 has no dash: it is printed as its number, and what is written stays as it is."""
    made = toured(tmp_path, PYTHONIOENCODING="latin-1")

    assert (made.statuses, made.site, made.log, made.notes) == (DONE, plain.site, plain.log, plain.notes)
    assert "Blätter über 9 cm \\u2013 schön".encode("latin-1") in made.printed
    assert made.printed == plain.printed.decode().encode("latin-1", "backslashreplace")


@pytest.mark.full
def test_a_narrow_terminal_wraps_help_alone(tmp_path: Path, plain: Toured) -> None:
    """Findings, figures and notes are not wrapped; the lines of `--help` are, and lose no word."""
    made = toured(tmp_path, COLUMNS="20")

    assert (made.statuses, made.site, made.notes) == (DONE, plain.site, plain.notes)
    assert made.printed.split() == plain.printed.split()
    assert made.printed.partition(b"Usage:")[0] == plain.printed.partition(b"Usage:")[0]


def test_a_journal_without_experiments(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing was grown yet: there is a site, and no figures."""
    (tmp_path / "bench").mkdir()
    (tmp_path / "bench" / "journal.yaml").write_text("format: 1\ntitle: Empty\n", "utf-8")
    journal, site = str(tmp_path / "bench"), tmp_path / "site"
    statuses = [
        status_of([*words, "--today", "2026-05-01"])
        for words in (
            ["validate", journal],
            ["write", journal, "-o", str(site)],
            ["facts", "--journal", journal, "--json"],
        )
    ]

    assert (statuses, (site / "index.html").exists()) == ([0, 0, 0], True), capsys.readouterr().err


def test_the_29th_of_february_and_the_turn_of_the_year_are_days(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Days 71 and 102 of a run that began on 20 December 2023: counted by hand on a calendar."""
    journal = small_journal(tmp_path / "bench")
    site = tmp_path / "site"
    status = status_of(["write", str(journal), "-o", str(site), "--today", "2026-05-01"])
    rows = csv.DictReader((site / "data/two/entries.csv").read_text("utf-8").splitlines())
    days = [(row["day_first"], row["day_date"]) for row in rows]

    assert status == 0, capsys.readouterr().err
    assert days == [("0", "2023-12-20"), ("71", "2024-02-29"), ("102", "2024-03-31")]


def test_nothing_asks_for_the_words_of_the_machine() -> None:
    """Letters change their case as Unicode has it, not as a Turkish machine has it: no module knows its locale."""
    package = ROOT / "sitegen"
    asks = re.compile(
        r"^\s*(import locale|from locale |from babel.*default_locale)|setlocale"
        # What the functions of C say in the words and signs of the locale, and how it sorts.
        r"|strftime|%[aAbBcpxX]\b|\{[\w.]+:[ <>^=+\-0-9.,]*n\}|strxfrm|strcoll",
        re.MULTILINE,
    )
    asking = [path.name for path in package.rglob("*.py") if asks.search(path.read_text("utf-8"))]

    assert asking == []


def test_methods_are_read_from_the_source_where_docstrings_are_left_out() -> None:
    """`python -OO` has no docstrings; the text of each method is the same."""
    texts = [method_of(each) for each in formulas()]
    with pytest.MonkeyPatch.context() as patch:
        for each in formulas():
            patch.setattr(each, "__doc__", None)
        assert [method_of(each) for each in formulas()] == texts


def test_help_does_not_rest_on_docstrings() -> None:
    """The help of each command is given as text."""
    commands = [cli.get_command(click.Context(cli), name) for name in cli.list_commands(click.Context(cli))]
    group = commands[0]
    assert isinstance(group, click.Group)
    docs = {
        command.name: (command.callback.__doc__ or "").split()
        for command in [cli, *commands, *group.commands.values()]
        if command is not None and command.callback is not None
    }
    helped = {
        command.name: (command.help or "").split()
        for command in [cli, *commands, *group.commands.values()]
        if command is not None
    }

    assert [name for name, words in helped.items() if not words or words == docs[name]] == []
