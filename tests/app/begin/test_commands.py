"""`sitegen begin`: the files of a new journal."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from shutil import rmtree

import pytest
import yaml

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.core.format import FORMAT, TABLES
from sitegen.pipeline import validate

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
    ("options", "changed", "said"),
    [
        (
            [],
            {"start": dt.date.today()},
            [
                "season: 2026-spring, the only one",
                "crop: lettuce, the only one of crops.yaml",
                "system: tub-6, the only one of gear.yaml",
                "plants: 6, one in each spot of tub-6",
                f"start: {dt.date.today()}, today; change it where you sow on another day",
            ],
        ),
        (
            [
                "--season",
                "2026-spring",
                "--crop",
                "lettuce",
                "--system",
                "tub-6",
                "--plants",
                "2",
                "--start",
                "2026-03",
            ],
            {"plants": 2, "start": "2026-03"},
            [],
        ),
    ],
)
def test_experiment(
    options: list[str],
    changed: dict[str, object],
    said: list[str],
    root: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """An experiment has the set-up of the options, what there is only one of, and an empty log; the rest are comments."""
    assert begin("experiment", "first-run", str(root), *options) == Status.DONE

    path = root / "seasons" / "2026-spring" / "first-run" / "experiment.yaml"
    text = path.read_text("utf-8")
    lines = [*said, f"wrote {path}", f"next: sitegen validate {root}"]
    assert capsys.readouterr().err.splitlines() == lines
    assert yaml.safe_load(text) == {
        "format": FORMAT,
        "title": "first-run",
        "crop": "lettuce",
        "system": "tub-6",
        "plants": 6,
        "log": [],
        **changed,
    }
    keys = [line.split(":")[0][4:] for line in text.partition("# Keys of an entry:\n")[2].splitlines()]
    assert keys == [key.key for key in TABLES["entry"].fields]


def test_first_entry_is_a_comment(root: Path) -> None:
    """The entry that stands as a comment validates once its signs and the brackets are taken away, as it says."""
    begin("experiment", "first-run", str(root), "--start", "2026-03-01")
    path = root / "seasons" / "2026-spring" / "first-run" / "experiment.yaml"
    text = path.read_text("utf-8").replace("log: []", "log:")
    for line in ("  - day: 0", "    sow: 3 a spot", "    water: filled"):
        assert f"\n#{line}\n" in text
        text = text.replace(f"\n#{line}\n", f"\n{line}\n")
    path.write_text(text, "utf-8")

    checked = validate(root, dt.date(2026, 3, 1))
    assert (checked.findings, checked.entries) == ((), 1)


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (
            ["--crop", "letuce"],
            "`letuce` is not a crop of crops.yaml: write `lettuce`, or add `letuce` there",
        ),
        (["--system", "crate"], "`crate` is not a system of gear.yaml: write `tub-6`, or add `crate` there"),
    ],
)
def test_unknown_crop_or_system(
    options: list[str], message: str, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where nobody can be asked, an unknown crop or system is refused with the one meant, and nothing is written."""
    assert begin("experiment", "first-run", str(root), *options) == Status.USAGE

    assert capsys.readouterr().err.endswith(f"Error: {message}; nothing was written\n")
    assert not (root / "seasons" / "2026-spring" / "first-run").exists()


def test_several_seasons(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With several seasons one has to be named; with none, one is begun first."""
    begin("season", "2026-summer", str(root))
    capsys.readouterr()
    assert begin("experiment", "first-run", str(root)) == Status.USAGE
    wanted = "Error: which season? `--season` wants one of `2026-spring` or `2026-summer`\n"
    assert capsys.readouterr().err.endswith(wanted)

    rmtree(root / "seasons")
    assert begin("experiment", "first-run", str(root)) == Status.USAGE
    wanted = f"Error: there is no season yet: sitegen begin season 2026-spring {root}\n"
    assert capsys.readouterr().err.endswith(wanted)


def test_experiment_without_its_season(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A season is begun first."""
    assert begin("experiment", "first-run", str(root), "--season", "2026-autumn") == Status.USAGE

    known = "write `2026-spring`, or start it: "
    message = f"there is no season `2026-autumn`: {known}sitegen begin season 2026-autumn {root}\n"
    assert capsys.readouterr().err.endswith(f"Error: {message}")


def test_a_start_that_is_none_writes_nothing(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is no date is refused; a day said in words becomes its date."""
    path = root / "seasons" / "2026-spring" / "one" / "experiment.yaml"

    assert begin("experiment", "one", str(root), "--start", "soon") == Status.USAGE
    assert capsys.readouterr().err.endswith(
        "Error: `soon` is not a date; write it as 2026-03-01, a month as 2026-03, or `unknown`; nothing was written\n"
    )
    assert begin("experiment", "one", str(root), "--start", "2.3.2026") == Status.USAGE
    assert "can be read in two ways: day first or month first" in capsys.readouterr().err
    assert not path.exists()

    assert begin("experiment", "one", str(root), "--start", "13 March 2026") == Status.DONE
    assert "\nstart: 2026-03-13\n" in path.read_text("utf-8")


def test_the_next_command_can_be_pasted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder with a blank in its name stands in quotes, as a shell wants it."""
    begin("journal", str(tmp_path / "my bench"))

    assert capsys.readouterr().err.endswith(
        f"next: sitegen begin season {YEAR}-first '{tmp_path / 'my bench'}'\n"
    )


@pytest.mark.parametrize(
    ("name", "better"), [("Spring 2026", "spring-2026"), ("-first", "first"), ("???", "autumn-2026")]
)
def test_bad_id(name: str, better: str, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An id has letters, digits and hyphens; another is offered."""
    assert begin("season", "--", name, str(root)) == Status.USAGE

    assert f"`{name}` cannot be an id; write `{better}`\n" in capsys.readouterr().err


def test_an_experiment_that_was_begun_by_a_killed_command(root: Path) -> None:
    """The folder that it left is no obstacle; one in which something of the author's lies stays as it is."""
    home = root / "seasons" / "2026-spring"
    for name in ("half", "own"):
        (home / name).mkdir()
        (home / name / ".experiment.yaml.abcd1234.new").write_text("title: ha", "utf-8")
    (home / "own" / "letter.txt").write_text("of the author", "utf-8")
    words = (str(root), "--start", "2026-03-01", "--plants", "2")

    assert begin("experiment", "own", *words) == Status.ERRORS
    assert sorted(path.name for path in (home / "own").iterdir()) == ["letter.txt"]
    rmtree(home / "own")
    assert begin("experiment", "half", *words) == Status.DONE
    assert [path.name for path in (home / "half").iterdir()] == ["experiment.yaml"]
