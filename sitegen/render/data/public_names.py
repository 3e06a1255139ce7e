"""A run without names that are its author's own: of spreadsheets and footage, of runs that nobody may know yet.

In: a run. Out: the same to be written as data. What comes out of measuring it is the same but for those names. The
place of a row in a spreadsheet stays, since a figure carries its rows: `sheet-1.xlsx`, line 7.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import PurePosixPath

from sitegen.core.findings.source import Source
from sitegen.core.records.rows import Clip, Run

UNNAMED = "another-run"


def public_run(run: Run, is_public: Callable[[str], object]) -> Run:
    """A run whose rows and set-up hold no such name."""
    setup, rows = run.setup, run.rows
    names = _names_of_sheets(run)

    def place(source: Source) -> Source:
        return source._replace(file=names.get(source.file, source.file))

    shares = tuple(each if is_public(each.run) else replace(each, run=UNNAMED) for each in setup.shares)
    return replace(
        run,
        # Questions of viewers are for the comments below an episode: no page has them.
        setup=replace(setup, shares=shares, viewer_questions=()),
        rows=replace(
            rows,
            events=tuple(each._replace(file="") if isinstance(each, Clip) else each for each in rows.events),
            readings=tuple(each._replace(source=place(each.source)) for each in rows.readings)
            if names
            else rows.readings,
            exports=tuple(replace(each, source=place(each.source)) for each in rows.exports),
        ),
    )


def _names_of_sheets(run: Run) -> dict[str, str]:
    """A neutral name for each spreadsheet, by the place of its file."""
    own = run.setup.source.file
    places = [
        *(each.source.file for each in run.rows.readings),
        *(each.source.file for each in run.rows.exports),
    ]
    sheets = dict.fromkeys(place for place in places if place != own)
    folder = PurePosixPath(own).parent
    return {
        place: str(folder / f"sheet-{number}{PurePosixPath(place).suffix.lower()}")
        for number, place in enumerate(sheets, start=1)
    }
