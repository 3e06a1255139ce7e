"""The commands one after another in a process of its own, as on a machine of somebody else.

In: a folder with a journal of two experiments and a photo, an environment, a mask of rights, how the process is started.
Out: what it printed, the site, the log and the notes that it wrote.

`python -m tests.platforms.tour JOURNAL SITE NOTES` is that process: validate, write, facts, notes, log.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from locale import LC_ALL, setlocale
from pathlib import Path

from sitegen.app.console.streams import prepare_streams
from sitegen.app.main import status_of
from tests.journal_maker import make_journal
from tests.photos.pictures import jpeg, picture
from tests.pipeline.bench import TODAY, leaf, tree

ROOT = Path(__file__).parents[2]
LOGGED = "day 31: note: Blätter über 9 cm – schön"


def small_journal(folder: Path) -> Path:
    """Two experiments of different crops and days, one with a photo; words that ASCII does not have."""
    root = make_journal(
        folder,
        {
            "one": leaf("One", note="Überall grün – ½ Höhe"),
            # The turn of a year, 29 February, and 31 March 2024, when Europe's clocks were put forward.
            "two": leaf("İki ığ", "tomato", start="2023-12-20").replace(
                "day: 20\n", "day: 71\n    height: 5 cm\n  - day: 102\n    end: no room\n"
            ),
        },
        journal="address: https://example.org/\n",
        more={"about.md": "# Über uns\n\nA [page](index.html).\n"},
    )
    photo = root / "seasons/one/one/photos/day-20.jpg"
    photo.parent.mkdir()
    photo.write_bytes(jpeg(picture((200, 150))))
    return root


@dataclass(frozen=True)
class Toured:
    """What a machine made of the journal."""

    statuses: str
    printed: bytes
    said: bytes  # on stderr
    site: dict[str, bytes]
    log: bytes
    notes: bytes


def toured(
    folder: Path,
    *,
    python: Iterable[str] = (),
    mask: int = -1,
    **environment: str | None,
) -> Toured:
    """The tour through a new journal in a folder; a value of the environment that is None is taken out of it."""
    journal = small_journal(folder / "bench")
    site, notes = folder / "site", folder / "notes.md"
    wanted = os.environ | {"SITEGEN_CACHE": str(folder / "cache"), "PYTHONPATH": str(ROOT)} | environment
    done = subprocess.run(
        [sys.executable, *python, "-m", "tests.platforms.tour", journal, site, notes],
        env={key: value for key, value in wanted.items() if value is not None},
        cwd=folder,
        capture_output=True,
        umask=mask,
        check=False,
    )
    printed, _, statuses = done.stdout.rpartition(b"STATUSES ")
    here = os.fsencode(folder)
    return Toured(
        statuses.decode().strip(),
        printed.replace(here, b"FOLDER"),
        done.stderr.replace(here, b"FOLDER"),
        tree(site),
        (journal / "seasons/one/one/experiment.yaml").read_bytes(),
        notes.read_bytes() if notes.exists() else b"",
    )


def tour(journal: str, site: str, notes: str) -> list[int]:
    """The statuses of the commands."""
    today = ("--today", str(TODAY))
    commands = (
        ("validate", journal, *today),
        ("write", journal, "-o", site, "--jobs", "1", *today),
        ("facts", "one", "--journal", journal, *today),
        ("facts", "two", "--journal", journal, "--json", *today),
        ("notes", "one", "--journal", journal, "-o", notes, *today),
        ("notes", "two", "--journal", journal, *today),
        ("log", "one", LOGGED, "--journal", journal, *today),
        ("schema",),
        ("begin", "--help"),
    )
    return [status_of(list(words)) for words in commands]


TAKE_ON = "TOUR_TAKES_ON_THE_LOCALE"

if __name__ == "__main__":
    if (
        TAKE_ON in os.environ
    ):  # as no command does, and as a library may: then decimals have a comma, and `I` is no `i`
        setlocale(LC_ALL, "")
    prepare_streams()
    print("STATUSES", *tour(*sys.argv[1:]))
