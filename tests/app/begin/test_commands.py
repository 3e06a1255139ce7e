"""`sitegen begin`: the files of a new journal."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
import yaml

from sitegen.app.main import status_of
from sitegen.app.status import Status
from sitegen.core.format import FORMAT, TABLES

YEAR = dt.date.today().year


def begin(*arguments: str) -> int:
    """The status of the command."""
    return status_of(["begin", *arguments])


@pytest.fixture
def root(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A journal with a season."""
    begin("journal", str(tmp_path))
    begin("season", "2026-spring", str(tmp_path))
    capsys.readouterr()
    return tmp_path


def test_journal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Four files are written and named, with the next step."""
    folder = tmp_path / "new" / "bench"

    assert begin("journal", str(folder), "--title", "It's ours", "--units", "us") == Status.DONE
    names = ("journal.yaml", "gear.yaml", "crops.yaml", "about.md")
    assert capsys.readouterr().err == "".join(
        [
            *(f"wrote {folder / name}\n" for name in names),
            f"next: sitegen begin season {YEAR}-first {folder}\n",
        ]
    )
    assert yaml.safe_load((folder / "journal.yaml").read_text("utf-8")) == {
        "format": FORMAT,
        "title": "It's ours",
        "units": "us",
        "theme": "ledger",
    }


@pytest.mark.parametrize(
    ("file", "table", "given"),
    [
        ("journal.yaml", "journal", {"format", "title", "units", "theme"}),
        ("seasons/2026-spring/season.yaml", "season", {"title"}),
    ],
)
def test_keys_as_comments(file: str, table: str, given: set[str], root: Path) -> None:
    """Each key of the format stands in the file in its order: filled in, or as a comment with its meaning."""
    lines = [line for line in (root / file).read_text("utf-8").splitlines() if not line.startswith("# What")]
    fields = [f for f in TABLES[table].fields if f.key in given or f.example]

    assert len(lines) == len(fields)
    for line, key in zip(lines, fields, strict=True):
        if key.key in given:
            assert line.startswith(f"{key.key}: ")
        else:
            assert line == f"# {key.key}: {key.example}  # {key.about}"


@pytest.mark.parametrize(
    ("options", "title"), [([], "2026-summer"), (["--title", "Summer's light"], "Summer's light")]
)
def test_season(options: list[str], title: str, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A season has its title, else its id, and the next step is an experiment."""
    assert begin("season", "2026-summer", str(root), *options) == Status.DONE

    path = root / "seasons" / "2026-summer" / "season.yaml"
    assert yaml.safe_load(path.read_text("utf-8")) == {"title": title}
    assert capsys.readouterr().err == (
        f"wrote {path}\nnext: sitegen begin experiment my-first --season 2026-summer {root}\n"
    )


@pytest.mark.parametrize(
    ("options", "changed"),
    [
        ([], {"start": dt.date.today()}),
        (
            ["--crop", "basil", "--system", "crate", "--plants", "2", "--start", "2026-03"],
            {"crop": "basil", "system": "crate", "plants": 2, "start": "2026-03"},
        ),
    ],
)
def test_experiment(
    options: list[str], changed: dict[str, object], root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An experiment begins with a sowing; crop, system, plants and start are those of the options."""
    assert begin("experiment", "first-run", str(root), "--season", "2026-spring", *options) == Status.DONE

    path = root / "seasons" / "2026-spring" / "first-run" / "experiment.yaml"
    text = path.read_text("utf-8")
    assert capsys.readouterr().err == f"wrote {path}\nnext: sitegen validate {root}\n"
    assert yaml.safe_load(text) == {
        "format": FORMAT,
        "title": "first-run",
        "question": "What is this run to show?",
        "crop": "lettuce",
        "system": "tub-6",
        "plants": 6,
        "log": [{"day": 0, "sow": "2 a spot", "water": "filled"}],
        **changed,
    }
    keys = [line.split(":")[0][4:] for line in text.partition("# Keys of an entry:\n")[2].splitlines()]
    assert keys == [key.key for key in TABLES["entry"].fields]


def test_experiment_without_its_season(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A season is begun first."""
    assert begin("experiment", "first-run", str(root), "--season", "2026-autumn") == Status.USAGE

    message = f"there is no season `2026-autumn`: sitegen begin season 2026-autumn {root}\n"
    assert capsys.readouterr().err.endswith(f"Error: {message}")


@pytest.mark.parametrize(
    ("name", "better"), [("Spring 2026", "spring-2026"), ("-first", "first"), ("???", "autumn-2026")]
)
def test_bad_id(name: str, better: str, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An id has letters, digits and hyphens; another is offered."""
    assert begin("season", "--", name, str(root)) == Status.USAGE

    assert f"`{name}` cannot be an id; write `{better}`\n" in capsys.readouterr().err
