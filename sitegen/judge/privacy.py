"""Personal details in published texts, and photos that carry a location.

In: the context of a run. Out: warnings. The patterns are narrow: false alarms in every second note would teach authors to
ignore all of them. Private texts never reach this stage.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath
from string import ascii_lowercase, ascii_uppercase, digits
from typing import Literal, NamedTuple

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.language.text import plural
from sitegen.core.records.rows import Run
from sitegen.judge.context import Context

_SHAPES = bytes.maketrans(
    (ascii_uppercase + ascii_lowercase + digits).encode(), b"A" * 26 + b"a" * 26 + b"0" * 10
)


Form = Literal["text", "capitals", "shape"]


def forms_of(text: str) -> Mapping[Form, str]:
    """A text as it is, in capitals, and as a shape: `A`, `a`, `0` for letters and digits of ASCII."""
    raw = text.encode("utf-8", "replace")
    return {"text": text, "capitals": raw.upper().decode(), "shape": raw.translate(_SHAPES).decode()}


@dataclass(frozen=True, slots=True)
class Detail:
    """A kind of personal detail: a pattern, and a check of each match.

    A text that matches the pattern has one of `signs` in the form `form`: searching for them first is much faster.
    """

    name: str
    form: Form
    signs: tuple[str, ...]
    pattern: re.Pattern[str]
    is_valid: Callable[[str], bool] = bool

    def may_be_in(self, forms: Mapping[Form, str]) -> bool:
        """Whether a text has one of the signs."""
        return any(sign in forms[self.form] for sign in self.signs)


class _Text(NamedTuple):
    """A published text and its place; `whole_file` if it is all of the file."""

    text: str
    source: Source
    whole_file: bool = False


_RESERVED_HOSTS = ("example.org", "example.com", "example.net", ".example", ".test", ".invalid", ".localhost")
_FILE_ENDINGS = (".jpg", ".jpeg", ".png", ".webp", ".heic", ".svg", ".gif")


def _is_mail(text: str) -> bool:
    """Whether the host is no reserved one (RFC 2606), and the text no name of a file such as `leaf@2x.png`."""
    return not text.lower().endswith((*_RESERVED_HOSTS, *_FILE_ENDINGS))


def _is_phone(text: str) -> bool:
    """Whether it has as many digits as a telephone number (ITU-T E.164: at most 15; at least 7 from memory)."""
    return 7 <= sum(letter.isdigit() for letter in text) <= 15


def _is_account(text: str) -> bool:
    """Whether the check digits are right (ISO 13616): the number, rearranged and in digits, is 1 modulo 97."""
    bare = text.replace(" ", "")
    digits = "".join(str(int(letter, 36)) for letter in bare[4:] + bare[:4])
    return int(digits) % 97 == 1


DETAILS = (
    Detail(
        "a mail address",
        "text",
        ("@",),
        re.compile(r"(?<![\w.+-])[\w.+-]{1,64}@(?:[A-Za-z0-9-]{1,63}\.)+[A-Za-z]{2,24}(?![\w-])"),
        _is_mail,
    ),
    Detail(
        "an account number",
        "shape",
        ("AA00",),
        re.compile(r"\b[A-Z]{2}[0-9]{2}(?: ?[A-Z0-9]{4}){2,7}(?: ?[A-Z0-9]{1,3})?\b"),
        _is_account,
    ),
    Detail(
        "a telephone number",
        "text",
        ("+",),
        re.compile(r"(?<![\w.+])\+\d(?:[ ()./-]{0,2}\d){7,14}(?![\w])"),
    ),
    Detail(
        "a telephone number",
        "shape",
        ("-0000", ".0000"),
        re.compile(r"(?<![\w.-])(?:\([0-9]{3}\) ?|[0-9]{3}[-. ])[0-9]{3}[-.][0-9]{4}(?![\w-])"),
    ),
    Detail(
        "a telephone number",
        "capitals",
        ("TEL", "PHONE", "MOBILE", "HANDY", "WHATSAPP"),
        re.compile(
            r"(?i:\b(?:tel|phone|telephone|telefon|mobile|handy|whatsapp)\b)[.: ]{1,3}\d[\d ()/-]{5,20}\d",
            re.ASCII,
        ),
        _is_phone,
    ),
    Detail(
        "a street address",
        "shape",
        ("0 A", "0a A"),
        re.compile(
            r"\b[0-9]{1,5}[a-z]? (?:[A-Z][\w'’-]+ ){1,3}"
            r"(?:Street|St\.|Road|Rd\.|Avenue|Ave\.|Lane|Boulevard|Blvd\.?|Drive)(?!\w)"
        ),
    ),
    Detail(
        "a street address",
        "text",
        ("straße", "strasse", "gasse", "allee", "straat", "laan"),
        re.compile(r"\b[A-ZÄÖÜ][\wäöüß-]{2,}(?:straße|strasse|gasse|allee|straat|laan) \d{1,4}[a-z]?\b"),
    ),
    Detail(
        "a street address",
        "text",
        (" rue ",),
        re.compile(r"\b\d{1,4}(?: bis)?,? rue (?:de |du |des |de la |d')?[A-ZÀ-Ý]\w+"),
    ),
)
_LINK = re.compile(r"https?://\S+")


def _texts(run: Run) -> Iterator[_Text]:
    """Every text of a run that is published."""
    setup, rows = run.setup, run.rows
    titles = [
        title for e in setup.episodes for title in (e.title, *(chapter.title for chapter in e.chapters))
    ]
    head = {
        "title": setup.title,
        "question": setup.question,
        "before": setup.before,
        "answer": f"{setup.answer.result} {setup.answer.why} {setup.answer.change}" if setup.answer else "",
        "disclosure": setup.disclosure,
        "seed": setup.seed.source if setup.seed else "",
        "episodes": " / ".join(titles),
        "corrections": " / ".join(correction.text for correction in setup.corrections),
    }
    yield from (_Text(text, setup.at(key)) for key, text in head.items())
    for each in setup.viewer_questions:
        yield from (_Text(each.asked, each.source), _Text(each.answer, each.source))
    yield from (_Text(event.what, event.source) for event in rows.events)
    yield from (_Text(routine.often, routine.source) for routine in rows.routines)
    yield from (_Text(photo.alt, photo.source) for photo in rows.photos)
    yield from (_Text(pick.grade, pick.source) for pick in rows.picks)
    yield _Text(run.recap, _beside(run, "recap.md"), whole_file=True)


def _beside(run: Run, *parts: str) -> Source:
    """A file in the experiment's folder."""
    return Source(str(PurePosixPath(run.setup.source.file).parent.joinpath(*parts)))


def personal_detail(context: Context) -> Iterator[Finding]:
    """No published text has a part that looks like an address, an account or a telephone number."""
    texts = list(_texts(context.run))
    # All texts together: most runs have no sign at all, and their texts need not be searched one by one.
    together = forms_of(without_links("\n".join(text.text for text in texts)))
    possible = [detail for detail in DETAILS if detail.may_be_in(together)]
    for text in texts:
        for detail, start, found in found_in(without_links(text.text), possible):
            message = f"`{found}` looks like {detail.name}, and this text is published"
            mend = "remove it, if it is not meant for everyone"
            yield Finding("personal-detail", _place(text, start, len(found)), message, mend, found)


def without_links(text: str) -> str:
    """A text with spaces in place of its links."""
    return _LINK.sub(lambda link: " " * len(link.group()), text) if "://" in text else text


def found_in(text: str, details: Iterable[Detail]) -> Iterator[tuple[Detail, int, str]]:
    """The details in a text; of two that overlap, the first in the table."""
    taken = bytearray(len(text))
    for detail in details:
        for match in detail.pattern.finditer(text):
            start, stop = match.span()
            if any(taken[start:stop]) or not detail.is_valid(match.group()):
                continue
            taken[start:stop] = b"\1" * (stop - start)
            yield detail, start, match.group()


def _place(text: _Text, start: int, width: int) -> Source:
    """The place of a part of a text, as narrow as it is known."""
    if text.whole_file:
        before = text.text[:start]
        line_start = before.rfind("\n") + 1
        return Source(text.source.file, before.count("\n") + 1, start - line_start + 1, width)
    plain_scalar = text.source.width == len(text.text)
    return text.source.part(start, width) if plain_scalar else text.source


def photo_location(context: Context) -> Iterator[Finding]:
    """Photos that carry a location share one finding, at the first of them."""
    located = [photo.file for photo in context.run.photo_files if photo.located]
    if not located:
        return
    more = len(located) - 1
    also = f", and so {'does' if more == 1 else 'do'} {plural(more, 'more photo')}" if more else ""
    named = {photo.file: photo.source for photo in reversed(context.run.rows.photos)}
    message = f"`{located[0]}` carries the place where it was taken{also}; what is published does not"
    mend = "remove the location before you pass the file itself on"
    source = named.get(located[0], _beside(context.run, "photos", PurePosixPath(located[0]).name))
    yield Finding("photo-location", source, message, mend, plural(len(located), "photo"))
