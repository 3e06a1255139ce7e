"""Which catalogue a journal speaks from."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.core.findings.finding import Findings
from sitegen.core.language.catalogue import ENGLISH, tr, tr_n, using_catalogue
from sitegen.core.records.setup import Journal
from sitegen.ingest import catalogues as words
from sitegen.ingest.catalogues import read_catalogue

WORDS = 'msgid "Methods"\nmsgstr "{}"\n'


def _write(folder: Path, **catalogues: str) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in catalogues.items():
        (folder / f"{name.replace('_', '-')}.po").write_text(text, "utf-8")


def _said(root: Path, tag: str, message: str = "Methods") -> tuple[str, list[str]]:
    findings = Findings()
    with using_catalogue(read_catalogue(root, Journal("", language=tag), findings)):
        return tr(message), [finding.code for finding in findings]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of catalogues that came with the program."""
    home = tmp_path / "home"
    _write(home, nl=WORDS.format("Methoden") + 'msgid "Site"\nmsgstr "Plek"\n', nl_BE=WORDS.format("Wegen"))
    monkeypatch.setattr(words, "SHIPPED", home)
    return home


@pytest.mark.parametrize(
    ("tag", "said"),
    [
        ("nl", "Methoden"),
        ("nl-BE", "Wegen"),
        ("NL-be", "Wegen"),
        ("nl-SR", "Methoden"),
        ("nl-Latn-BE", "Methoden"),
    ],
)
def test_the_nearest_catalogue_is_taken(tag: str, said: str, tmp_path: Path, home: Path) -> None:
    """A tag without a catalogue of its own speaks as the shorter one does."""
    assert _said(tmp_path, tag) == (said, [])


def test_a_journal_has_words_of_its_own(tmp_path: Path, home: Path) -> None:
    """They go before those that came with the program, which say the rest."""
    _write(tmp_path / "look" / "words", nl=WORDS.format("Werkwijze"))

    assert [_said(tmp_path, "nl"), _said(tmp_path, "nl", "Site")] == [("Werkwijze", []), ("Plek", [])]


def test_english_can_be_reworded(tmp_path: Path, home: Path) -> None:
    """A journal's own words for English are read too."""
    _write(tmp_path / "look" / "words", en=WORDS.format("How it is done"))

    assert _said(tmp_path, "en-IE") == ("How it is done", [])


def test_english_reads_nothing(tmp_path: Path, home: Path) -> None:
    """Without a catalogue of its own an English journal has the empty default catalogue."""
    assert read_catalogue(tmp_path, Journal("", language="en-GB"), Findings()) is ENGLISH


def test_plurals_are_those_of_the_header(tmp_path: Path, home: Path) -> None:
    """A catalogue whose header says nothing has the plurals of its language."""
    lines = (
        'msgid "{n} day"\nmsgid_plural "{n} days"\nmsgstr[0] "{n} a"\nmsgstr[1] "{n} b"\nmsgstr[2] "{n} c"\n'
    )
    _write(home, pl=lines)
    with using_catalogue(read_catalogue(tmp_path, Journal("", language="pl"), Findings())):
        # Polish: one, few (2-4), many (CLDR plural rules)
        assert [tr_n("{n} day", "{n} days", n) for n in (1, 3, 5)] == ["1 a", "3 b", "5 c"]


def test_fuzzy_and_empty_words_are_not_said(tmp_path: Path, home: Path) -> None:
    """What a translator was not sure of, or left out, stays English."""
    _write(home, fi='#, fuzzy\nmsgid "Methods"\nmsgstr "Tavat"\n\nmsgid "Site"\nmsgstr ""\n')

    assert [_said(tmp_path, "fi"), _said(tmp_path, "fi", "Site")] == [("Methods", []), ("Site", [])]


@pytest.mark.parametrize(
    "line",
    [
        'msgid "of {whole}"\nmsgstr "van {geheel}"\n',
        'msgid "of {whole}"\nmsgstr "van {whole.__class__}"\n',
        'msgid "of {whole}"\nmsgstr "van {whole!r}"\n',
        'msgid "of {whole}"\nmsgstr "van {whole} }"\n',
        'msgid "<b>of</b>"\nmsgstr "<i>van</i>"\n',
        'msgid "{n} day"\nmsgid_plural "{n} days"\nmsgstr[0] "dag"\nmsgstr[1] "{m} dagen"\n',
    ],
)
def test_words_that_do_not_fit_are_not_said(line: str, tmp_path: Path, home: Path) -> None:
    """Places and markup are those of the English, and nothing is reached through a value."""
    _write(tmp_path / "look" / "words", nl=line + "\n" + WORDS.format("Werkwijze"))

    assert _said(tmp_path, "nl") == ("Werkwijze", ["bad-words"])


def test_a_catalogue_in_an_unknown_charset_is_not_said(tmp_path: Path, home: Path) -> None:
    """A header that names no charset that there is is a finding, not a fault of the program."""
    header = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=u\\n"\n\n'
    _write(tmp_path / "look" / "words", nl=header + WORDS.format("Werkwijze"))

    assert _said(tmp_path, "nl") == ("Methoden", ["bad-words"])


def test_a_form_of_a_plural_may_leave_out_the_number(tmp_path: Path, home: Path) -> None:
    """`one plant` needs no digit."""
    line = 'msgid "{n} day"\nmsgid_plural "{n} days"\nmsgstr[0] "een dag"\nmsgstr[1] "{n} dagen"\n'
    _write(tmp_path / "look" / "words", nl=line)

    assert _said(tmp_path, "nl") == ("Methoden", [])


def test_the_digest_changes_with_the_words(tmp_path: Path, home: Path) -> None:
    """What is kept under it is made again."""
    before = read_catalogue(tmp_path, Journal("", language="nl"), Findings()).digest
    _write(tmp_path / "look" / "words", nl=WORDS.format("Werkwijze"))
    after = read_catalogue(tmp_path, Journal("", language="nl"), Findings()).digest

    assert len({before, after, ""}) == 3
