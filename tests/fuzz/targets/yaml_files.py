"""YAML with places, and the files of a journal beside its experiments."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from sitegen.app.console.report import findings_text
from sitegen.core.findings.finding import Findings
from sitegen.core.findings.source import Source
from sitegen.ingest import read_journal
from sitegen.ingest.yaml.nodes import Items, Mapping, Node, Scalar
from sitegen.ingest.yaml.parser import parse
from tests.fuzz.target import Run, Target, hold, joined, sections
from tests.fuzz.targets.journals import KEYS, WORDS, case_files, printed_journal, report, texts

_SHARED = ("journal.yaml", "gear.yaml", "crops.yaml")
_CATALOGUE = "look/words/xx.po"


def _tree(_folder: Path) -> Run:
    def run(data: bytes) -> object:
        text = data.decode("utf-8", "replace")
        findings = Findings()
        node = parse(text, "f.yaml", findings, partly=True)
        hold(node is not None or len(findings), "neither a tree nor a finding")
        lines = (
            text.count("\n")
            + text.count("\r")
            + text.count("\x85")
            + text.count("\u2028")
            + text.count("\u2029")
            + 1
        )
        for source in [*_places(node), *(finding.source for finding in findings)]:
            hold(
                1 <= source.line <= lines + 1 and source.column >= 1 and source.width >= 1,
                f"a place outside: {source!r}",
            )
        return node, report(tuple(findings))

    return run


def _places(node: Node | None) -> Iterator[Source]:
    if isinstance(node, Scalar):
        yield node.source
    elif isinstance(node, Items):
        for item in node.items:
            yield from _places(item)
    elif isinstance(node, Mapping):
        for pair in node:
            yield pair.key.source
            yield from _places(pair.value)


def _shared(folder: Path) -> Run:
    root = printed_journal(folder)
    sound = {name: (root / name).read_bytes() for name in _SHARED}
    (root / _CATALOGUE).parent.mkdir(parents=True)

    def run(data: bytes) -> object:
        files = sections(data)
        for name, content in sound.items():
            (root / name).write_bytes(files.get(name, content))
        catalogue = files.get(_CATALOGUE)
        (root / _CATALOGUE).unlink(missing_ok=True)
        if catalogue is not None:
            (root / _CATALOGUE).write_bytes(catalogue)
        found, findings = read_journal(root)
        hold(bool(findings_text(findings, root)) == bool(findings), "a finding that is not told")
        return found, report(findings)

    return run


def _shared_seeds() -> Iterator[bytes]:
    yield from (joined(files) for files in case_files(*_SHARED))
    for name in _SHARED:
        yield from (joined([(name, text)]) for text in texts(f"/{name}"))
    language = b"format: 1\ntitle: T\nlanguage: xx\n"
    for po in _CATALOGUES:
        yield joined([("journal.yaml", language), (_CATALOGUE, po)])


_HEAD = b'msgid ""\nmsgstr ""\n"Language: de\\n"\n"Content-Type: text/plain; charset=utf-8\\n"\n"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
_CATALOGUES = (
    _HEAD + b'msgid "Runs"\nmsgstr "L\xc3\xa4ufe"\n\n#, fuzzy\nmsgid "Compare"\nmsgstr "V"\n',
    _HEAD
    + b'msgctxt "a"\nmsgid "{count} plant"\nmsgid_plural "{count} plants"\nmsgstr[0] "{count} P"\nmsgstr[1] "{count} Pn"\n',
    _HEAD.replace(b"(n != 1)", b"n%10==1 && n%100!=11 ? 0 : 1")
    + b'msgid ""\n"two "\n"lines"\nmsgstr "<b>{x}</b>"\n',
)
_PO = (b"msgid ", b"msgstr ", b"msgstr[1] ", b"msgctxt ", b"msgid_plural ", b'""', b"#, fuzzy\n", b"#~ ", b"nplurals=", b"plural=", b"charset=latin-1", b"{count}")  # fmt: skip

TARGETS = (
    Target("yaml", _tree, lambda: texts(".yaml")[:120], ("ingest/yaml",), "sitegen.ingest.yaml.parser:_document",
           tokens=(*KEYS, *WORDS)),
    Target("journal-files", _shared, _shared_seeds, ("ingest/journal.py", "ingest/library.py", "ingest/catalogues.py", "ingest/yaml"),
           "sitegen.ingest.yaml.typed_fields:read_fields", tokens=(*KEYS, *WORDS, *_PO)),
)  # fmt: skip
