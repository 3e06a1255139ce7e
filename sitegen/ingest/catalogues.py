"""The translation catalogue of a journal: the one that came with the program, overlaid with the journal's own.

In: the journal's folder and its `language`. Out: `Catalogue`, and findings: an invalid language tag, a language
without a catalogue, an unreadable catalogue. English reads no file unless the journal has a catalogue of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from gettext import c2py
from hashlib import blake2b
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from sitegen.core.files.inside import paths_in
from sitegen.core.findings.finding import Finding, Findings
from sitegen.core.findings.source import Source
from sitegen.core.language.catalogue import ENGLISH, Catalogue, message_key
from sitegen.core.records.setup import Journal
from sitegen.ingest.text_files import name_of, read_text

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog, Message

SHIPPED = (Path(__file__).parents[1] / "words").resolve()
OWN = Path("look") / "words"
LIMIT = 4_000_000  # bytes; a whole catalogue has some 200 KB
_TAG = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*")
_LINE = re.compile(r'\s*(#.*)?|((msgctxt|msgid|msgid_plural|msgstr(\[\d\])?)\s+)?"([^"\\]|\\.)*"\s*')
_MARKUP = re.compile(r"\{\w+\}|</?[a-z][^<>]*>")
_PLACEHOLDER = re.compile(r"\{\w+\}")

_Messages = dict[str, tuple[str, ...]]


def languages() -> tuple[str, ...]:
    """The languages of the catalogues that came with the program."""
    return ("en", *sorted(path.stem for path in SHIPPED.glob("*.po")))


def read_catalogue(root: Path, journal: Journal, findings: Findings) -> Catalogue:
    """The catalogue of a journal: the nearest one that came with the program, overlaid with the journal's own."""
    tag, source = journal.language, journal.at("language")
    if not _TAG.fullmatch(tag):
        message, mend = f"`{tag}` is not the tag of a language", "write a tag such as `en`, `de` or `pt-BR`"
        findings.add(
            "not-a-language", source, message, mend=mend, found=tag, expected="a language tag (BCP 47)"
        )
        return ENGLISH
    own, shipped = _nearest(_in(root / OWN, root), tag), _nearest(SHIPPED.glob("*.po"), tag)
    if own is None and shipped is None:
        if tag.lower().partition("-")[0] != "en":
            _untranslated(tag, source, findings)
        return ENGLISH
    return _read(tag, [path for path in (shipped, own) if path is not None], root, findings)


def _untranslated(tag: str, source: Source, findings: Findings) -> None:
    stay = "and all numbers stay" if _locale(tag) is None else "stay"
    known = ", ".join(f"`{name}`" for name in languages())
    message = f"the site's own words are not there in `{tag}`: they {stay} English"
    mend = f"put them into `{(OWN / f'{tag}.po').as_posix()}`, or write one of {known}"
    expected = "a language that the site's words are there in"
    findings.add("untranslated", source, message, mend=mend, found=tag, expected=expected)


def _in(folder: Path, root: Path) -> Iterator[Path]:
    """The catalogues of a journal; one behind a link that leads out is no catalogue, and a finding elsewhere."""
    return (path for path in paths_in(folder, root) if path.suffix == ".po")


def _nearest(paths: Iterable[Path], tag: str) -> Path | None:
    """The catalogue of a tag among some: `de-AT.po`, else `de.po`."""
    known = {path.stem.lower(): path for path in paths}
    parts = tag.lower().split("-")
    names = ("-".join(parts[:length]) for length in range(len(parts), 0, -1))
    return next((known[name] for name in names if name in known), None)


def _read(tag: str, paths: list[Path], root: Path, findings: Findings) -> Catalogue:
    messages: _Messages = {}
    plural, digest = ENGLISH.plural, blake2b(tag.encode(), digest_size=16)
    for path in paths:
        base = root if path.is_relative_to(root) else path.parent
        text = read_text(path, base, findings, limit=LIMIT)
        catalog = None if text is None else _parsed(text, name_of(path, base), findings)
        if catalog is None or text is None:
            continue
        digest.update(text.encode())
        messages |= _messages(catalog, name_of(path, base), findings)
        plural = catalog.plural_expr
    return Catalogue(tag, messages, plural, digest.hexdigest())


def _parsed(text: str, name: str, findings: Findings) -> Catalog | None:
    """A catalogue, as babel parses it."""
    from babel.messages.pofile import PoFileError, read_po  # noqa: PLC0415 - slow, and not needed in English

    for number, line in enumerate(text.splitlines(), start=1):
        if not _LINE.fullmatch(line):  # babel would skip it silently
            _bad(findings, Source(name, number, 1, len(line)), f"`{line}` is not a line of a catalogue")
            return None
    try:
        catalog = read_po(
            BytesIO(text.encode()), _locale(Path(name).stem), charset="utf-8", abort_invalid=True
        )
        c2py(catalog.plural_expr)
    except (PoFileError, ValueError, LookupError) as error:  # an unknown charset, too
        line_number = getattr(error, "lineno", 0) + 1
        _bad(findings, Source(name, line_number), f"`{name}` cannot be read as a catalogue: {error}")
        return None
    return catalog


def _locale(tag: str) -> str | None:
    """The locale of a tag, for the plural forms of a catalogue whose header has none; None where it is unknown."""
    from babel import Locale, UnknownLocaleError  # noqa: PLC0415 - slow, and not needed in English

    try:
        return str(Locale.parse(tag, sep="-"))
    except (UnknownLocaleError, ValueError):
        return None


def _messages(catalog: Catalog, name: str, findings: Findings) -> _Messages:
    faulty = set()
    for message, fault in catalogue_faults(catalog):
        _bad(findings, Source(name, message.lineno or 1), fault)
        faulty.add(id(message))
    return {
        message_key(_english(message)[0], message.context or ""): _forms(message)
        for message in catalog
        if message.id and id(message) not in faulty and not message.fuzzy and all(_forms(message))
    }


def _english(message: Message) -> tuple[str, ...]:
    return (message.id,) if isinstance(message.id, str) else tuple(message.id)


def _forms(message: Message) -> tuple[str, ...]:
    """The translation of a message: one text for each plural form."""
    return (message.string,) if isinstance(message.string, str) else tuple(message.string or ("",))


def catalogue_faults(catalog: Catalog) -> Iterator[tuple[Message, str]]:
    """The messages with an invalid translation, and the reason."""
    for message in catalog:
        forms = [form for form in _forms(message) if form]
        if message.id and forms and (fault := _fault(message, forms)):
            yield message, fault


def _fault(message: Message, forms: list[str]) -> str:
    """The reason that a translation is invalid; empty where it is valid.

    It has the placeholders and the markup of the English message. A plural form may lack some of them.
    """
    english = _english(message)
    wanted = [marks_of(each) for each in english]
    # Without placeholders a brace is plain text, as in formulas.
    filled = any(map(_PLACEHOLDER.search, english))
    for form in forms:
        marks = marks_of(form)
        if filled and re.search("[{}]", _MARKUP.sub("", form)):
            return f"`{form}` has a brace that belongs to no place"
        if len(english) == 1 and marks != wanted[0]:
            return f"`{form}` has not the places and the markup of `{english[0]}`"
        if len(english) > 1 and not set(marks) <= {mark for each in wanted for mark in each}:
            return f"`{form}` has places that `{english[1]}` has not"
    return ""


def marks_of(text: str) -> list[str]:
    """The placeholders and the markup of a message, sorted."""
    return sorted(_MARKUP.findall(text))


def _bad(findings: Findings, source: Source, message: str) -> None:
    findings.extend([Finding("bad-words", source, message, mend="mend the line, or remove the file")])
