"""What looks personal in the texts of a journal, wider than what every command tells of: for one who asks.

In: published texts. Out: findings, each with where it would appear. Three tables hold the patterns: places, things,
people. Left alone are prices (they are published on purpose), words with a capital alone, plates of cars, and pictures:
what a photo shows cannot be seen here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from sitegen.core.findings.finding import Finding
from sitegen.core.records.published_text import PublishedText
from sitegen.judge.personal.people import PEOPLE
from sitegen.judge.personal.places import PLACES
from sitegen.judge.personal.things import THINGS
from sitegen.judge.privacy import DETAILS, Detail, forms_of, found_in, without_links

__all__ = ["HINTS", "KINDS", "personal_findings", "personal_parts"]

HINTS: tuple[Detail, ...] = (*PLACES, *THINGS, *PEOPLE)
KINDS = tuple(dict.fromkeys(detail.name for detail in (*DETAILS, *HINTS)))
# Looked for in links too: elsewhere a link is left out, since addresses hold long numbers.
_IN_LINKS = ("a profile", "a point on a map", "a path of a computer")
# All that is looked for in styles and drawings: an editor writes where it saved them.
_IN_CODE = ("a path of a computer", "a mail address")
_QUIET = re.compile(
    r"^(?P<fence>```|~~~)(?:chart|photo|strip)\b.*?^(?P=fence)|<!--(?:(?!<!--).)*?-->|\{\{(?:(?!\{\{).)*?\}\}",
    re.MULTILINE | re.DOTALL,
)


def personal_parts(text: str, *, code: bool = False) -> Iterator[tuple[Detail, int, str]]:
    """Each part of a text that looks personal: its kind, where it begins, the part."""
    read = _QUIET.sub(lambda match: re.sub(r"[^\n]", " ", match.group()), text)
    bare = without_links(read)
    taken = bytearray(len(text))
    for details, said in ((DETAILS, bare), (HINTS, bare), (HINTS, read)):
        wanted = [
            detail
            for detail in details
            if (said is bare or detail.name in _IN_LINKS) and (not code or detail.name in _IN_CODE)
        ]
        forms = forms_of(said)
        for detail, start, found in found_in(said, [each for each in wanted if each.may_be_in(forms)]):
            stop = start + len(found)
            if not any(taken[start:stop]):
                taken[start:stop] = b"\1" * len(found)
                yield detail, start, found


def personal_findings(texts: Iterable[PublishedText]) -> Iterator[Finding]:
    """A finding for each part that looks personal."""
    for text in texts:
        for detail, start, found in personal_parts(text.text, code=text.code):
            code = "personal-detail" if detail in DETAILS else "personal-hint"
            message = f"`{_in_line(found)}` looks like {detail.name}; it appears in {text.where()}"
            mend = "remove it, or write it under `private`, if it is not meant for everyone"
            yield Finding(code, text.place(start, len(found)), message, mend, found)


def _in_line(found: str) -> str:
    return " ".join(found.split()).replace("`", "'")
