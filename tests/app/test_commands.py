"""The commands as a person calls them: what they print, what they leave on disk, how they end."""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path

import pytest

from sitegen.app.console.status import Status
from sitegen.app.main import status_of

FORMAT_JOURNAL = Path(__file__).parent.parent / "journals" / "format"


@pytest.fixture
def fresh(tmp_path: Path) -> Path:
    """A journal that `begin` wrote, with one season and one experiment."""
    root = tmp_path / "bench"
    assert status_of(["begin", "journal", str(root), "--title", "It's a bench"]) == Status.DONE
    assert status_of(["begin", "season", "2026-spring", str(root)]) == Status.DONE
    assert (
        status_of(
            [
                "begin",
                "experiment",
                "first-run",
                str(root),
                "--season",
                "2026-spring",
                "--start",
                "2026-03-01",
            ]
        )
        == Status.DONE
    )
    sow(root, "first-run")
    return root


def sow(root: Path, run: str) -> None:
    """Write the first entry of a log."""
    path = root / "seasons" / "2026-spring" / run / "experiment.yaml"
    text = path.read_text("utf-8")
    assert "\nlog: []\n" in text
    path.write_text(
        text.replace("\nlog: []\n", "\nlog:\n  - day: 0\n    sow: 2 a spot\n    water: filled\n"), "utf-8"
    )


def experiment(root: Path) -> Path:
    """The one experiment's file."""
    return root / "seasons" / "2026-spring" / "first-run" / "experiment.yaml"


def break_it(root: Path) -> None:
    """Give the experiment an error."""
    path = experiment(root)
    path.write_text(path.read_text("utf-8").replace("sow: 2 a spot", "sow: 2 a spto"), "utf-8")


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its bytes."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_begin_writes_a_journal_that_validates(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What `begin` writes, with a first entry, has no findings on the day it was begun."""
    capsys.readouterr()

    assert status_of(["validate", str(fresh), "--today", "2026-03-01"]) == Status.DONE
    assert capsys.readouterr().out == "no findings: 1 experiment, 1 entry\n"


def test_begin_never_writes_over_a_file(fresh: Path) -> None:
    """A second `begin` of the same thing changes nothing and ends as wrong usage."""
    before = tree(fresh)

    assert status_of(["begin", "journal", str(fresh)]) == Status.USAGE
    assert status_of(["begin", "season", "2026-spring", str(fresh)]) == Status.USAGE
    assert tree(fresh) == before


def test_begin_refuses_what_cannot_be_an_id(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder name with spaces is refused with a name that would do."""
    root = tmp_path / "bench"
    status_of(["begin", "journal", str(root)])

    assert status_of(["begin", "season", "Spring 2026", str(root)]) == Status.USAGE
    assert "`Spring 2026` cannot be an id; write `spring-2026`" in capsys.readouterr().err


def test_validate_json_is_versioned(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--json` prints one object with a format number, on stdout alone."""
    break_it(fresh)
    capsys.readouterr()

    assert status_of(["validate", str(fresh), "--json", "--today", "2026-03-01"]) == Status.ERRORS
    printed = capsys.readouterr()
    data = json.loads(printed.out)
    assert data["format"] == 1
    assert [finding["code"] for finding in data["findings"]] == ["not-a-count"]
    assert printed.err == ""


def test_validate_line_form(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--line` prints one line a finding, with place, code, message and mend."""
    break_it(fresh)
    capsys.readouterr()
    status_of(["validate", str(fresh), "--line", "--today", "2026-03-01"])

    line = capsys.readouterr().out.rstrip("\n")
    place = "seasons/2026-spring/first-run/experiment.yaml"
    assert line.startswith(f"{place}:")
    assert "error[not-a-count]: `2 a spto` is not a number of seeds" in line
    assert "\n" not in line


def test_a_journal_is_found_upwards(fresh: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Called from inside an experiment's folder, a command finds the journal above."""
    monkeypatch.chdir(experiment(fresh).parent)

    assert status_of(["validate", "--today", "2026-03-01"]) == Status.DONE


def test_no_journal_is_wrong_usage(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder without journal.yaml ends with 2 and says how to start one."""
    assert status_of(["validate", str(tmp_path)]) == Status.USAGE
    assert "sitegen begin journal" in capsys.readouterr().err


def test_unknown_command_offers_the_near_one(capsys: pytest.CaptureFixture[str]) -> None:
    """A misspelt command is met with the one meant."""
    assert status_of(["validat"]) == Status.USAGE
    assert "there is no command `validat`: write `validate`" in capsys.readouterr().err


def test_unknown_experiment_offers_the_near_one(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`facts` of an experiment that is not there names the one meant."""
    assert status_of(["facts", "first-rum", "--journal", str(fresh)]) == Status.USAGE
    assert "there is no experiment `first-rum`: write `first-run`" in capsys.readouterr().err


def test_interrupt_is_130(fresh: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends with 130 and no traceback."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sitegen.pipeline.validate", interrupted)
    assert status_of(["validate", str(fresh)]) == Status.INTERRUPTED


def test_our_own_fault_says_what_to_report(
    fresh: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A surprise ends with 3, a traceback and the versions to report."""

    def surprise(*_: object) -> None:
        raise ZeroDivisionError("seven")

    monkeypatch.setattr("sitegen.pipeline.validate", surprise)
    assert status_of(["validate", str(fresh)]) == Status.FAULT
    said = capsys.readouterr().err
    assert "ZeroDivisionError: seven" in said
    assert "Please report" in said


def test_write_puts_the_site_where_the_journal_says(fresh: Path) -> None:
    """Without `-o` and `output:` the site goes into output/ inside the journal."""
    assert status_of(["write", str(fresh), "--today", "2026-03-01"]) == Status.DONE
    assert (fresh / "output" / "index.html").is_file()


def test_errors_leave_the_old_output_alone(fresh: Path, tmp_path: Path) -> None:
    """With an error, `write` ends with 1 and changes no byte of the site."""
    out = tmp_path / "site"
    status_of(["write", str(fresh), "-o", str(out), "--today", "2026-03-01"])
    before = tree(out)
    break_it(fresh)

    assert status_of(["write", str(fresh), "-o", str(out), "--today", "2026-03-01"]) == Status.ERRORS
    assert tree(out) == before


def test_keep_going_leaves_out_only_the_broken(
    fresh: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """`--keep-going` publishes the sound experiments, names the others and ends with 4."""
    args = [
        "begin",
        "experiment",
        "second-run",
        str(fresh),
        "--season",
        "2026-spring",
        "--start",
        "2026-03-01",
    ]
    status_of(args)
    sow(fresh, "second-run")
    break_it(fresh)
    out = tmp_path / "site"

    status = status_of(["write", str(fresh), "-o", str(out), "--keep-going", "--today", "2026-03-01"])
    assert status == Status.PARTLY
    assert "left out: first-run" in capsys.readouterr().err
    assert (out / "experiments" / "second-run.html").is_file()
    assert not (out / "experiments" / "first-run.html").exists()


def test_a_second_write_changes_nothing(
    fresh: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The same journal gives the same bytes."""
    out = tmp_path / "site"
    status_of(["write", str(fresh), "-o", str(out), "--today", "2026-03-01"])
    before = tree(out)
    capsys.readouterr()

    assert status_of(["write", str(fresh), "-o", str(out), "--today", "2026-05-01"]) == Status.DONE
    assert capsys.readouterr().err.splitlines()[-1].startswith("0 files written, ")
    assert tree(out) == before


def test_a_foreign_folder_is_not_touched(
    fresh: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A folder with files of another origin is refused, and keeps them."""
    out = tmp_path / "holiday"
    out.mkdir()
    (out / "beach.jpg").write_bytes(b"sand")

    assert status_of(["write", str(fresh), "-o", str(out), "--today", "2026-03-01"]) == Status.ERRORS
    assert tree(out) == {"beach.jpg": b"sand"}
    assert "holds files that were not written from a journal" in capsys.readouterr().err


def test_held_back_until_its_date(fresh: Path, tmp_path: Path) -> None:
    """`publish` keeps a page back until that day, and not longer."""
    path = experiment(fresh)
    path.write_text(path.read_text("utf-8").replace("\nlog:", "\npublish: 2026-04-01\nlog:", 1), "utf-8")
    out, page = tmp_path / "site", tmp_path / "site" / "experiments" / "first-run.html"

    status_of(["write", str(fresh), "-o", str(out), "--today", "2026-03-31"])
    assert not page.exists()
    status_of(["write", str(fresh), "-o", str(out), "--today", "2026-04-01"])
    assert page.exists()


def test_facts_are_those_with_a_value(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The table has what was recorded of the whole run, and says how many figures `--all` adds."""
    arguments = ["facts", "first-run", "--journal", str(fresh), "--today", "2026-03-01"]
    capsys.readouterr()
    assert status_of(arguments) == Status.DONE
    *short, more, _ = capsys.readouterr().out.splitlines()
    assert status_of([*arguments, "--all"]) == Status.DONE
    *whole, _ = capsys.readouterr().out.splitlines()

    assert more == f"  and {len(whole) - len(short)} figures of single arms or without a value: --all"
    assert {line.split()[0] for line in short} < {line.split()[0] for line in whole}
    assert any(line.endswith("not recorded") for line in whole)
    assert not any(line.endswith("not recorded") for line in short)


def test_facts_of_all_as_json(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`facts --json` prints every figure of every experiment with value, words, formula, remarks and rows."""
    capsys.readouterr()
    assert status_of(["facts", str(fresh), "--json", "--today", "2026-03-01"]) == Status.DONE

    data = json.loads(capsys.readouterr().out)
    assert data["format"] == 2
    (one,) = data["experiments"]
    sown = one["figures"]["germination.sown"]
    assert (sown["value"]["low"], sown["value"]["high"], sown["text"]) == (12.0, 12.0, "12")
    assert one["figures"]["length"]["remarks"] == [{"code": "to_last_entry", "values": {}}]
    (row,) = sown["rows"]
    assert row.startswith("seasons/2026-spring/first-run/experiment.yaml:")


def test_today_must_be_a_date(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--today` wants an ISO date."""
    assert status_of(["validate", str(fresh), "--today", "tomorrow"]) == Status.USAGE
    assert "`tomorrow` is not a date" in capsys.readouterr().err


def test_today_defaults_to_the_clock(fresh: Path) -> None:
    """A run begun today has no entry in the future."""
    path = experiment(fresh)
    path.write_text(path.read_text("utf-8").replace("2026-03-01", date.today().isoformat()), "utf-8")

    assert status_of(["validate", str(fresh)]) == Status.DONE


def test_output_of_a_copy_is_the_same(fresh: Path, tmp_path: Path) -> None:
    """Where a journal lies leaves no trace in its site."""
    copy = tmp_path / "elsewhere" / "bench"
    shutil.copytree(fresh, copy)
    status_of(["write", str(fresh), "-o", str(tmp_path / "a"), "--today", "2026-03-01"])
    status_of(["write", str(copy), "-o", str(tmp_path / "b"), "--today", "2026-03-01"])

    assert tree(tmp_path / "a") == tree(tmp_path / "b")


def test_why_shows_formula_and_log_lines(fresh: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--why` prints the value, its rounding, the formula and the lines of the log that went in."""
    capsys.readouterr()
    root = str(fresh)

    assert status_of(["facts", "first-run", "--journal", root, "--why", "germination.sown"]) == Status.DONE
    said = capsys.readouterr().out
    assert "germination.sown: 12\n" in said
    assert "  recorded to 1, the coarsest that went in\n" in said
    assert "(seeds_sown)" in said
    assert "seasons/2026-spring/first-run/experiment.yaml:" in said
    assert "  sow: 2 a spot" in said


def test_why_of_an_unknown_figure_offers_the_near_one(
    fresh: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A misspelt figure is met with the one meant."""
    root = str(fresh)

    assert status_of(["facts", "first-run", "--journal", root, "--why", "harvest.totl"]) == Status.USAGE
    assert "`first-run` has no figure `harvest.totl`: write `harvest.total`" in capsys.readouterr().err
