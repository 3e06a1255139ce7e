"""Stretches of days in words.

In: the first and the last day. Out: `day 3`, `days 3–8`, `about days 3–8`. A value of the facts is said by `Wording`.
"""

from __future__ import annotations

from sitegen.core.tongue import tr

__all__ = ["span_words"]


def span_words(first: int, last: int, *, about: bool = False) -> str:
    """A stretch; one day where it begins and ends on it."""
    if first == last:
        return tr("about day\u00a0{day}", day=first) if about else tr("day\u00a0{day}", day=first)
    if about:
        return tr("about days\u00a0{first}–{last}", first=first, last=last)
    return tr("days\u00a0{first}–{last}", first=first, last=last)
