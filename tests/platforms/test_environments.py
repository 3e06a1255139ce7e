"""The same bytes and no traceback, whatever environment a command is started in."""

from __future__ import annotations

import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest

TODAY = "2028-03-01"
# A leap day in the middle, sown in the year before.
RUN = """format: 1
title: Basil over the year's end
crop: basil
system: wick-box
start: 2027-12-20
plants: 2
log:
  - date: 2027-12-20
    sow: 2 a spot
    water: 2 L
  - date: 2028-02-29
    height: {P1: 12 cm, P2: 9 cm}
    note: "Grün & gut – ½ so hoch"
  - date: 2028-03-01
    harvest: 12 g
"""
FILES = {
    "journal.yaml": "format: 1\ntitle: Bench\nlanguage: en\n",
    "gear.yaml": "systems:\n  wick-box: {name: Wick box, spots: 2, reservoir: 3 L}\n",
    "crops.yaml": "basil: {name: Basil, kind: herb}\n",
    "seasons/winter/season.yaml": "title: Winter\n",
    "seasons/winter/basil/experiment.yaml": RUN,
}
EASY: dict[str, str] = {}
PLAIN = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
ENVIRONMENTS = [
    pytest.param(PLAIN, id="C"),
    pytest.param({"TZ": "Pacific/Kiritimati", "PYTHONHASHSEED": "5"}, id="far east", marks=pytest.mark.full),
    pytest.param({"TZ": "Pacific/Pago_Pago", "PYTHONOPTIMIZE": "2"}, id="far west, no docstrings"),
    pytest.param({"TZ": "America/New_York"}, id="summer time", marks=pytest.mark.full),
    pytest.param({"LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8"}, id="Turkish", marks=pytest.mark.full),
    pytest.param(
        {"TERM": "dumb", "COLUMNS": "20", "NO_COLOR": "1"}, id="a small terminal", marks=pytest.mark.full
    ),
    pytest.param({"HOME": "/nonexistent", "SITEGEN_CACHE": ""}, id="no home", marks=pytest.mark.full),
]


def write_journal(root: Path, files: dict[str, str]) -> Path:
    """A journal with these files."""
    for place, text in files.items():
        (root / place).parent.mkdir(parents=True, exist_ok=True)
        (root / place).write_text(text, "utf-8")
    return root


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A run over the end of a year and a leap day."""
    return write_journal(tmp_path / "journal", FILES)


def _started(
    words: list[str], changed: dict[str, str], shell: str = "{}"
) -> subprocess.CompletedProcess[bytes]:
    """A command started by a shell, in an environment of its own."""
    environment = {k: v for k, v in (os.environ | changed).items() if v}
    program = [sys.executable, "-m", "sitegen", *words]
    return subprocess.run(
        ["sh", "-c", shell.format('"$@"'), "sh", *program],
        env=environment,
        capture_output=True,
        check=False,
        stdin=subprocess.DEVNULL,
    )


def _digest(site: Path) -> str:
    """One digest of all files of a site, by name."""
    found = sha256()
    for path in sorted(path for path in site.rglob("*") if path.is_file()):
        found.update(path.relative_to(site).as_posix().encode() + path.read_bytes())
    return found.hexdigest()


@pytest.fixture
def usual(journal: Path, tmp_path: Path) -> str:
    """What is written in this environment."""
    site = tmp_path / "usual"
    assert _started(["write", str(journal), "-o", str(site), "--today", TODAY], EASY).returncode == 0
    return _digest(site)


@pytest.mark.parametrize("environment", ENVIRONMENTS)
def test_a_site_is_the_same_everywhere(
    environment: dict[str, str], journal: Path, usual: str, tmp_path: Path
) -> None:
    """Zone, language, terminal, home and optimisation leave no trace."""
    site = tmp_path / "site"
    done = _started(["write", str(journal), "-o", str(site), "--today", TODAY, "--fresh"], environment)

    assert (done.returncode, b"Traceback" in done.stderr) == (0, False), done.stderr.decode()
    assert _digest(site) == usual


@pytest.mark.parametrize(
    "shell",
    [
        "{} <&- >&- 2>&-",
        *(
            pytest.param(shell, marks=pytest.mark.full)
            for shell in ("{} <&-", "{} >&-", "{} 2>&-", "{} | head -1 >/dev/null", "umask 077; {}")
        ),
    ],
)
def test_streams_that_are_closed(shell: str, journal: Path, tmp_path: Path) -> None:
    """What cannot be printed is not printed; all else is as ever."""
    done = _started(["facts", "basil", "--journal", str(journal), "--today", TODAY], EASY, shell)
    assert (done.returncode, b"Traceback" in done.stderr + done.stdout) == (0, False)

    entry = journal / "seasons/winter/basil/experiment.yaml"
    done = _started(["log", "basil", "filled it", "--journal", str(journal), "--today", TODAY], EASY, shell)
    assert done.returncode == 0
    assert entry.read_text("utf-8") == f"{RUN}  - date: {TODAY}\n    water: filled\n"


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(b"latin \xe9\xff", id="no UTF-8"),
        *(
            pytest.param(name, marks=pytest.mark.full)
            for name in (
                b"with 'quotes' and \"more\"",
                "grün 🌱".encode(),
                b"a line\nand another",
                b"-o",
                b"%41 # ? & $HOME",
            )
        ),
    ],
)
def test_any_path(name: bytes, tmp_path: Path) -> None:
    """A journal and a site lie in folders of any name; a second command finds nothing changed."""
    folder = tmp_path / os.fsdecode(name)
    journal = write_journal(folder / "journal", FILES)
    words = ["write", str(journal), "-o", str(folder / "site"), "--today", TODAY]

    assert [b"Traceback" in done.stderr for done in (_started(words, EASY), _started(words, PLAIN))] == [
        False
    ] * 2
    assert (folder / "site" / "experiments" / "basil.html").is_file()
    assert (
        _started(["log", "basil", "filled it", "--journal", str(journal), "--today", TODAY], PLAIN).returncode
        == 0
    )


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    """A command started where nothing is any more says so."""
    gone = tmp_path / "gone"
    done = _started(["validate"], EASY, f"mkdir '{gone}'; cd '{gone}'; rmdir '{gone}'; {{}}")

    assert done.returncode == 5
    assert done.stderr.decode().endswith("change to another folder, and run the command again\n")
