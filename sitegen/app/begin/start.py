"""The day of sowing that `sitegen begin experiment --start` gives.

In: a text. Out: a date, a month, a year or `unknown`, as the file has it; `yesterday` becomes its date.
"""

from __future__ import annotations

import datetime as dt
import re

import click

_AS_WRITTEN = re.compile(r"unknown|\d{4}(?:-\d{2})?")


def checked_start(_ctx: click.Context, _parameter: click.Parameter, value: str) -> str:
    """The start as the file has it; wrong usage where it is none."""
    text = value.strip()
    if not text or _AS_WRITTEN.fullmatch(text):
        return text
    from sitegen.filing.said_days import said_day  # noqa: PLC0415 - `--help` does without

    found = said_day(text, dt.date.today())
    whole = found is not None and found.end == len(text)
    if found is not None and whole and found.message:
        raise click.UsageError(f"{found.message}: {found.mend}; nothing was written")
    if found is None or not whole or found.date is None:
        raise click.UsageError(
            f"`{value}` is not a date; write it as 2026-03-01, a month as 2026-03, or `unknown`; nothing was written"
        )
    return found.date.isoformat()
