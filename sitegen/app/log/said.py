"""The texts of `sitegen log` as somebody types them → texts of an entry, and its day.

In: arguments of the command line, today. Out: texts, and the line of the day where one begins with it. Words without
quotes are one text; a hyphen in front, as in the file, says nothing.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence

import click

EXAMPLE = "sitegen log basil 'side shoots on two plants, picked P1 9 g, filled it'"
_HYPHEN = re.compile(r"-\s+(?=\S)")
_SIGNS = " \t\n.,:;–—-"


class LogCommand(click.Command):
    """A command whose arguments may begin with a hyphen and a blank, as entries do in the file."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Drop the hyphens before options are looked for."""
        return super().parse_args(
            ctx, [_HYPHEN.sub("", each, count=1) if _HYPHEN.match(each) else each for each in args]
        )


def said_texts(texts: Sequence[str]) -> tuple[str, ...]:
    """The texts of an entry; wrong usage where they say nothing."""
    if len(texts) > 1 and not any(re.search(r"\s", text.strip()) for text in texts):
        texts = (" ".join(text.strip() for text in texts),)
    found = tuple(text for text in texts if text.strip(_SIGNS))
    if texts and not found:
        raise click.UsageError(f"the text is empty: say what was seen or done: {EXAMPLE}")
    return found


def said_when(texts: tuple[str, ...], today: dt.date) -> tuple[str, tuple[str, ...]]:
    """The line of the day that the first text begins with, and the texts without it; empty where none does."""
    from sitegen.filing.said_days import said_day  # noqa: PLC0415 - `--help` does without

    head = texts[0].lstrip() if texts else ""
    found = said_day(head, today)
    if found is None:
        return "", texts
    if not found.when:
        raise click.UsageError(f"{found.message}: {found.mend}, or say when by `--date`")
    rest = tuple(text for text in (head[found.end :].lstrip(_SIGNS), *texts[1:]) if text)
    if not rest:
        raise click.UsageError(f"nothing stands after the day: say what was seen or done: {EXAMPLE}")
    return found.when, rest


def said_date(text: str, today: dt.date) -> str:
    """The line of a date that an option gives."""
    from sitegen.filing.said_days import said_day  # noqa: PLC0415 - as above

    found = said_day(text.strip(), today)
    whole = found is not None and found.end == len(text.strip())
    if found is not None and whole and found.message:
        raise click.UsageError(f"{found.message}: {found.mend}")
    if found is None or not whole or found.date is None:
        raise click.UsageError(f"`{text}` is not a date; write it as 2025-10-19")
    return found.when
