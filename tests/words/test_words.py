"""The template and the catalogues that the program comes with."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from sitegen.core.findings.finding import Findings
from sitegen.core.records.setup import Journal
from sitegen.ingest.catalogues import catalogue_faults, read_catalogue
from sitegen.render.templates.themes import theme_names
from sitegen.words.catalogues import FOLDER, TEMPLATE, catalogue_text, template_text, updated
from sitegen.words.extraction import Message, all_messages, catalogue_of
from tests.words.leftovers import leftovers, write_pseudo
from tests.words.pseudo import pseudo_catalogue

CATALOGUES = sorted(FOLDER.glob("*.po"))


@pytest.fixture(scope="module")
def template() -> Catalog:
    """Every message of the site as it is now."""
    return catalogue_of(all_messages())


def _read(path: Path) -> Catalog:
    return read_po(BytesIO(path.read_bytes()), path.stem.replace("-", "_"), charset="utf-8")


def test_the_template_is_up_to_date(template: Catalog) -> None:
    """It is what `python -m sitegen.words` writes."""
    assert TEMPLATE.read_text("utf-8") == template_text(template)


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.stem)
def test_a_catalogue_is_up_to_date(path: Path, template: Catalog) -> None:
    """It has the template's messages and no others, in its order."""
    text = path.read_text("utf-8")

    assert catalogue_text(updated(text, template, path.stem)) == text


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.stem)
def test_a_catalogue_is_complete(path: Path) -> None:
    """Every message has words in every form, none is doubtful, and all places and markup are kept."""
    catalog = _read(path)
    messages = [message for message in catalog if message.id]
    empty = [m.id for m in messages if not (all(m.string) if isinstance(m.string, tuple) else m.string)]

    assert (empty, [m.id for m in messages if m.fuzzy], [f for _, f in catalogue_faults(catalog)]) == (
        [],
        [],
        [],
    )


def test_words_are_kept_when_messages_come_and_go() -> None:
    """A catalogue that is brought up to date keeps its words, drops what is gone and guesses nothing."""
    old = catalogue_of(iter([Message("a.py", "Methods"), Message("a.py", "{n} day", "{n} days")]))
    text = catalogue_text(updated("", old, "nl")).replace('"Methods"\nmsgstr ""', '"Methods"\nmsgstr "Wegen"')
    new = catalogue_of(iter([Message("a.py", "Method"), Message("b.py", "Methods")]))
    catalog = updated(text, new, "nl")

    assert {m.id: (m.string or "", m.fuzzy) for m in catalog if m.id} == {
        "Method": ("", False),
        "Methods": ("Wegen", False),
    }


def test_the_language_of_marks_fits(template: Catalog, tmp_path: Path) -> None:
    """A catalogue of every message can be read by a journal without a finding."""
    path = tmp_path / "look" / "words" / "en-XA.po"
    path.parent.mkdir(parents=True)
    path.write_text(pseudo_catalogue(template), "utf-8")
    findings = Findings()
    catalogue = read_catalogue(tmp_path, Journal("", language="en-XA"), findings)

    assert (len(catalogue.messages), list(findings)) == (len([m for m in template if m.id]), [])


# One of each kind: running, failed, with arms, a sheet and an export, from memory, planned.
SOME = (
    "cinder-beside-pebble",
    "emberfrill-hot-loft",
    "pebble-two-lamps",
    "basil-on-a-wick",
    "emberfrill-in-march",
    "lettuce-on-the-sill",
)


@pytest.mark.parametrize(
    ("theme", "runs"),
    [
        ("ledger", SOME),
        *(pytest.param(name, (), marks=pytest.mark.full) for name in theme_names()),
    ],
)
def test_every_word_is_a_message(theme: str, runs: tuple[str, ...], tmp_path: Path) -> None:
    """On the pages of the demo nothing is in plain letters but numbers, symbols and names, in any theme."""
    assert leftovers(write_pseudo(tmp_path, theme, runs)) == {}
